export interface Clipping {
  /** Flat tops found. */
  readonly count: number;
  /** The level at which they are flat, full scale 1. */
  readonly level: number;
  /** First sample of the first. */
  readonly firstSample: number;
}

/** Samples count as equal to the peak within this share of it: a step of 12-bit resolution. */
const equal = 2e-4;
const shortestRun = 3;
/** As far beyond its edges as it is long, a cut top has fallen by this share of the peak; a rounded one by a fifth. */
const steepFall = 1e-2;

/**
 * Flat tops at the greatest level of a recording: three samples or more in a row at the peak, with steep flanks.
 * Undefined where there are none. A single full-scale sample, as in a normalised impulse response, is none.
 */
export function findClipping(samples: Float64Array): Clipping | undefined {
  const peak = samples.reduce((most, v) => Math.max(most, Math.abs(v)), 0);
  if (peak === 0) return undefined;
  const limit = peak * (1 - equal);
  let count = 0;
  let firstSample = 0;
  for (let i = 0; i < samples.length; i++) {
    const sign = Math.sign(samples[i]!);
    let end = i;
    while (end < samples.length && sign * samples[end]! >= limit) end++;
    const length = end - i;
    const fallen = (at: number) =>
      samples[at] === undefined ? true : sign * samples[at] <= peak * (1 - steepFall);
    if (length >= shortestRun && fallen(i - length) && fallen(end - 1 + length)) {
      if (count === 0) firstSample = i;
      count++;
    }
    if (end > i) i = end - 1;
  }
  return count > 0 ? { count, level: peak, firstSample } : undefined;
}
