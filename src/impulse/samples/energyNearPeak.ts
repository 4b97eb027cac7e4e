import type { ImpulseResponse } from './impulseResponse.js';

/** Seconds on either side of the peak that hold all but little of an impulse response, even in a hall. */
const AROUND_S = 0.25;
/** Of a sweep, music or noise lasting some seconds they hold less than this share of the energy. */
const LEAST_SHARE = 0.3;
const LEAST_LENGTH_S = 1;

/**
 * The share of energy that lies within a quarter of a second of the peak, where it is less than that of any impulse
 * response; undefined where all is well, or too short to tell.
 */
export function spreadShare({ samples, sampleRateHz }: ImpulseResponse): number | undefined {
  if (samples.length < LEAST_LENGTH_S * sampleRateHz) return undefined;
  let [at, peak, whole, near] = [0, 0, 0, 0];
  samples.forEach((v, n) => {
    whole += v * v;
    if (Math.abs(v) > peak) [at, peak] = [n, Math.abs(v)];
  });
  const reach = Math.round(AROUND_S * sampleRateHz);
  for (const v of samples.subarray(Math.max(0, at - reach), at + reach + 1)) near += v * v;
  return near >= LEAST_SHARE * whole ? undefined : near / whole;
}
