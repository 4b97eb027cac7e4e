import { pow2 } from '../../elementary/exponential.js';
import { log10 } from '../../elementary/logarithm.js';
import { upperMedian } from '../../elementary/upperMedian.js';
import { energyNearPeak } from '../samples/energyNearPeak.js';
import { powerOfTwoAtLeast, realFft } from '../samples/fft.js';
import type { ImpulseResponse } from '../samples/impulseResponse.js';
import { meanBetween, powerOf } from '../samples/powerDensity.js';

const AROUND_S = 1e-3;
/** Rooms answer: they leave a tenth and more outside. What is measured from near, or in none, leaves less. */
const LEAST_SHARE = 0.99;
const BAND_OCTAVES = 1 / 3;
/** Interfaces are flat to some tenths; a speaker strays farther, in the bass above all. */
const FLAT_DB = 1;
/** Without a span that is known. */
const AUDIBLE = { fromHz: 20, toHz: 20_000 };

/**
 * Whether a sweep seems to have gone through no speaker: all but a hundredth of the energy lies within a millisecond of the
 * peak, and from half an octave within the swept span on either side no third of an octave strays by more than a decibel.
 */
export function soundsLikeWire(impulse: ImpulseResponse): boolean {
  return energyNearPeak(impulse, AROUND_S) >= LEAST_SHARE && isFlat(impulse);
}

function isFlat({ samples, sampleRateHz, swept = AUDIBLE }: ImpulseResponse): boolean {
  const size = powerOfTwoAtLeast(samples.length);
  const power = powerOf(realFft(samples, size).bins);
  const step = pow2(BAND_OCTAVES);
  const bands: number[] = [];
  for (let hz = swept.fromHz * Math.SQRT2; hz * step <= swept.toHz / Math.SQRT2; hz *= step)
    bands.push(10 * log10(meanBetween(power, sampleRateHz / size, hz, hz * step)));
  const middle = upperMedian(bands);
  return bands.every((db) => Math.abs(db - middle) <= FLAT_DB);
}
