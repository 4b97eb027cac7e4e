/**
 * One reflecting plane seen from speaker and microphone, all in metres: direct distance `r`, perpendicular
 * distances `hs` of the speaker's acoustic centre and `hm` of the microphone. The symbols are those of the
 * formula; the mirror image of the speaker lies 2·hs behind the plane's other side (Allen & Berkley 1979).
 */
export interface PlaneGeometry {
  readonly r: number;
  readonly hs: number;
  readonly hm: number;
}

/** Length of the reflected path in metres, L = √(r² + 4·hs·hm). */
export function reflectedPathM({ r, hs, hm }: PlaneGeometry): number {
  return Math.sqrt(r * r + 4 * hs * hm);
}

/** How much longer the reflected path is than the direct one, in metres: L − r, written so that it stays exact for small hs. */
export function pathDifferenceM(plane: PlaneGeometry): number {
  return (4 * plane.hs * plane.hm) / (reflectedPathM(plane) + plane.r);
}

/**
 * The `hs` that gives a path difference `differenceM`, where the microphone's distance from the plane changes
 * along with the speaker's by `microphoneFollows` (1: both sit on one line perpendicular to the plane, as for a
 * wall behind and for moving speaker and microphone together; 0: the microphone stays).
 * `plane` is where they stand now. Solves 4·hs·(hm + m·(hs − hs0)) = (r + Δ)² − r².
 */
export function speakerDistanceForM(
  differenceM: number,
  plane: PlaneGeometry,
  microphoneFollows = 1,
): number {
  const product = (differenceM * (differenceM + 2 * plane.r)) / 4;
  const m = microphoneFollows;
  const b = plane.hm - m * plane.hs;
  return (2 * product) / (b + Math.sqrt(b * b + 4 * m * product));
}

/** Frequencies up to `maxHz` where a path longer by `differenceM` cancels: (2n−1)·c/(2·Δ). Ascending. */
export function cancellationsHz(differenceM: number, maxHz: number, speedOfSoundMs: number): number[] {
  const result: number[] = [];
  const firstHz = speedOfSoundMs / (2 * differenceM);
  for (let n = 1; (2 * n - 1) * firstHz <= maxHz; n++) result.push((2 * n - 1) * firstHz);
  return result;
}

/** Frequencies up to `maxHz` where a path longer by `differenceM` adds in phase: n·c/Δ, n ≥ 1. Ascending. */
export function reinforcementsHz(differenceM: number, maxHz: number, speedOfSoundMs: number): number[] {
  const result: number[] = [];
  const firstHz = speedOfSoundMs / differenceM;
  for (let n = 1; n * firstHz <= maxHz; n++) result.push(n * firstHz);
  return result;
}
