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
  let peak = 0;
  for (let i = 0; i < samples.length; i++) peak = Math.max(peak, Math.abs(samples[i]!));
  if (peak === 0) return undefined;
  const limit = peak * (1 - equal);
  let count = 0;
  let firstSample = 0;
  for (let i = 0; i < samples.length; i++) {
    if (Math.abs(samples[i]!) < limit) continue;
    const sign = Math.sign(samples[i]!);
    let end = i + 1;
    while (end < samples.length && sign * samples[end]! >= limit) end++;
    if (end - i >= shortestRun && isSteep(samples, i, end, sign * peak)) {
      if (count === 0) firstSample = i;
      count++;
    }
    i = end;
  }
  return count > 0 ? { count, level: peak, firstSample } : undefined;
}

/** Whether the signal falls away on both sides of samples `from` to `end` − 1; the ends of the recording count as steep. */
function isSteep(samples: Float64Array, from: number, end: number, peak: number): boolean {
  const length = end - from;
  const fallen = (at: number) => samples[at] === undefined || samples[at] / peak <= 1 - steepFall;
  return fallen(from - length) && fallen(end - 1 + length);
}
