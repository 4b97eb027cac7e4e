import { bankMaximum } from '../filter/bankMaximum.js';
import { bankResponseDb } from '../filter/bankResponseDb.js';
import { biquadResponse } from '../filter/biquadResponse.js';
import { featureFrequencies } from '../filter/featureFrequencies.js';
import type { BiquadCoefficients, Filter } from '../filter/filter.js';
import { filterResponseDb } from '../filter/filterResponseDb.js';
import type { LevelAt } from '../fit/excess.js';

/** A filter with the coefficients that a device really runs. */
export interface StoredFilter {
  readonly filter: Filter;
  readonly coefficients: BiquadCoefficients;
}

/** What stored coefficients add to the response of the filters that they stand for, in dB. */
export function storedDeviationDb(stored: readonly StoredFilter[], sampleRateHz: number): LevelAt {
  return (frequencyHz) => {
    const sum = new Float64Array(frequencyHz.length);
    for (const { filter, coefficients } of stored) {
      const exactDb = filterResponseDb(filter, sampleRateHz, frequencyHz);
      const { levelDb } = biquadResponse(coefficients, sampleRateHz, frequencyHz);
      for (let i = 0; i < sum.length; i++) sum[i]! += levelDb[i]! - exactDb[i]!;
    }
    return sum;
  };
}

/**
 * Bound of the greatest level of a bank as stored, 0 Hz to half the sample rate: the exact bank's maximum, and by how
 * much the stored one exceeds it on points as dense as the poles and zeros ask for.
 */
export function storedMaximumDb(
  filters: readonly Filter[],
  deviationDb: LevelAt,
  sampleRateHz: number,
): number {
  const { maxDb } = bankMaximum(filters, sampleRateHz);
  const frequencyHz = featureFrequencies(filters, sampleRateHz, 0, sampleRateHz / 2);
  const exactDb = bankResponseDb(filters, sampleRateHz, frequencyHz);
  const addedDb = deviationDb(frequencyHz);
  const most = (levels: Float64Array) => levels.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY);
  const risen = most(exactDb.map((db, i) => db + addedDb[i]!)) - most(exactDb);
  return maxDb + Math.max(0, risen);
}
