import type { ImpulseResponse } from './impulseResponse.js';
import { indexOfGreatest } from './indexOfGreatest.js';

/** Seconds on either side of the peak that hold all but little of an impulse response, even in a hall. */
const AROUND_S = 0.25;
/** Of a sweep, music or noise lasting some seconds they hold less than this share of the energy. */
const LEAST_SHARE = 0.3;
const LEAST_LENGTH_S = 1;

/** The share of all energy, 0 to 1, that lies within `aroundS` seconds on either side of the peak. */
export function energyNearPeak({ samples, sampleRateHz }: ImpulseResponse, aroundS: number): number {
  const at = indexOfGreatest(samples);
  const reach = Math.round(aroundS * sampleRateHz);
  const energy = (part: Float64Array) => part.reduce((sum, v) => sum + v * v, 0);
  return energy(samples.subarray(Math.max(0, at - reach), at + reach + 1)) / energy(samples);
}

/**
 * The share of energy that lies within a quarter of a second of the peak, where it is less than that of any impulse
 * response; undefined where all is well, or too short to tell.
 */
export function spreadShare(impulse: ImpulseResponse): number | undefined {
  if (impulse.samples.length < LEAST_LENGTH_S * impulse.sampleRateHz) return undefined;
  const share = energyNearPeak(impulse, AROUND_S);
  return share < LEAST_SHARE ? share : undefined;
}
