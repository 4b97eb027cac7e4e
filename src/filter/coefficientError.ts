import { biquadResponse } from './biquadResponse.js';
import { featureFrequencies } from './featureFrequencies.js';
import type { BiquadCoefficients, Filter } from './filter.js';
import { filterResponseDb } from './filterResponseDb.js';
import { resonanceOf } from './resonance.js';

export interface CoefficientError {
  /** Largest difference of level between coefficients and the filter they stand for; never negative. */
  readonly maxErrorDb: number;
  readonly atHz: number;
}

/**
 * How far given coefficients are from the filter that they stand for, over `fromHz` (10 unless given) to `toHz`
 */
export function coefficientError(
  coefficients: BiquadCoefficients,
  filter: Filter,
  sampleRateHz: number,
  fromHz = 10,
  toHz = sampleRateHz / 2,
): CoefficientError {
  const { b0, b1, b2, a1, a2 } = coefficients;
  const own = [resonanceOf(1, a1, a2, sampleRateHz), resonanceOf(b0, b1, b2, sampleRateHz)];
  const pairs = own.filter((pair) => pair !== undefined);
  const frequencyHz = featureFrequencies([filter], sampleRateHz, fromHz, toHz, pairs);
  const meantDb = filterResponseDb(filter, sampleRateHz, frequencyHz);
  const { levelDb } = biquadResponse(coefficients, sampleRateHz, frequencyHz);
  let worst = { maxErrorDb: 0, atHz: fromHz };
  for (let i = 0; i < frequencyHz.length; i += 1) {
    const error = Math.abs(levelDb[i]! - meantDb[i]!);
    if (!(error <= worst.maxErrorDb)) worst = { maxErrorDb: error, atHz: frequencyHz[i]! };
  }
  return worst;
}
