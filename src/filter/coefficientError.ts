import { biquadResponse } from './biquadResponse.js';
import { featureFrequencies } from './featureFrequencies.js';
import type { BiquadCoefficients, Filter } from './filter.js';
import { filterResponseDb } from './filterResponseDb.js';
import { resonancesOf } from './resonance.js';

export interface CoefficientError {
  /** Largest difference of level between coefficients and the filter they stand for; never negative. */
  readonly maxErrorDb: number;
  readonly atHz: number;
}

/**
 * How far given coefficients are from the filter that they stand for, over `fromHz` (10 unless given) to `toHz`
 * (half the sample rate), at frequencies as dense as the filter's poles and zeros and their own ask for.
 */
export function coefficientError(
  coefficients: BiquadCoefficients,
  filter: Filter,
  sampleRateHz: number,
  fromHz = 10,
  toHz = sampleRateHz / 2,
): CoefficientError {
  const own = resonancesOf(coefficients, sampleRateHz);
  const frequencyHz = featureFrequencies([filter], sampleRateHz, fromHz, toHz, own);
  const meantDb = filterResponseDb(filter, sampleRateHz, frequencyHz);
  const { levelDb } = biquadResponse(coefficients, sampleRateHz, frequencyHz);
  let worst = { maxErrorDb: 0, atHz: fromHz };
  for (let i = 0; i < frequencyHz.length; i += 1) {
    const error = Math.abs(levelDb[i]! - meantDb[i]!);
    if (!(error <= worst.maxErrorDb)) worst = { maxErrorDb: error, atHz: frequencyHz[i]! };
  }
  return worst;
}
