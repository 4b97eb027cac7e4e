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
/** A top that is rounded, not cut, is entered in smaller steps than this share of the peak. */
const entryStep = 5e-3;

/**
 * Flat tops at the greatest level of a recording: three samples or more in a row at the peak, reached by a step.
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
    if (end - i >= shortestRun) {
      const stepIn = sign * (samples[i]! - (samples[i - 1] ?? samples[i]!));
      const stepOut = sign * (samples[end - 1]! - (samples[end] ?? samples[end - 1]!));
      if (Math.max(stepIn, stepOut) >= entryStep * peak) {
        if (count === 0) firstSample = i;
        count++;
      }
    }
    if (end > i) i = end - 1;
  }
  return count > 0 ? { count, level: peak, firstSample } : undefined;
}
