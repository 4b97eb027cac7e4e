import type { ImpulseResponse } from '../samples/impulseResponse.js';

const AROUND_S = 1e-3;
/** Speakers ring in the bass and rooms answer: they leave a tenth and more outside. */
const LEAST_SHARE = 0.99;

/** Whether all but a hundredth of the energy lies within a millisecond of the peak, as of a sweep that went through no speaker. */
export function soundsLikeWire({ samples, sampleRateHz }: ImpulseResponse): boolean {
  let [at, whole, near] = [0, 0, 0];
  samples.forEach((v, n) => {
    whole += v * v;
    if (Math.abs(v) > Math.abs(samples[at]!)) at = n;
  });
  const reach = Math.round(AROUND_S * sampleRateHz);
  for (const v of samples.subarray(Math.max(0, at - reach), at + reach + 1)) near += v * v;
  return near >= LEAST_SHARE * whole;
}
