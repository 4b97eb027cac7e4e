/** Where a reflecting surface would have to be for a given extra path, in two common arrangements. */
export interface EquivalentDistances {
  /** Of a wall behind the speaker, with the microphone in front: half the extra path. */
  readonly behindM: number;
  /**
   * Of a plane alongside speaker and microphone, equally far from both (a desk, a floor, a side wall); only where
   * the distance from speaker to microphone is known.
   */
  readonly alongsideM?: number;
}

/**
 * @param pathDifferenceM how much longer the reflected path is than the direct one
 * @param microphoneDistanceM straight from the speaker to the microphone
 */
export function equivalentDistances(
  pathDifferenceM: number,
  microphoneDistanceM?: number,
): EquivalentDistances {
  const behindM = pathDifferenceM / 2;
  if (microphoneDistanceM === undefined) return { behindM };
  // Image source: (r + ΔL)² = r² + 4h².
  const longer = microphoneDistanceM + pathDifferenceM;
  return { behindM, alongsideM: Math.sqrt(longer ** 2 - microphoneDistanceM ** 2) / 2 };
}
