import { type BankMaximum, bankMaximum } from '../../filter/bankMaximum.js';
import { bankResponseDb } from '../../filter/bankResponseDb.js';
import { biquadResponse } from '../../filter/biquadResponse.js';
import { featureFrequencies } from '../../filter/featureFrequencies.js';
import type { BiquadCoefficients, Filter } from '../../filter/filter.js';
import { filterResponseDb } from '../../filter/filterResponseDb.js';
import type { LevelAt } from '../../fit/objective/excess.js';

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
 * The greatest level of a bank as stored: the exact bank's maximum, and by how much the stored one differs from it on
 * points as dense as the poles and zeros ask for.
 */
export function storedMaximum(
  filters: readonly Filter[],
  deviationDb: LevelAt,
  sampleRateHz: number,
  fromHz = 0,
  toHz = sampleRateHz / 2,
): BankMaximum {
  return maxima(filters, deviationDb, sampleRateHz, fromHz, toHz).stored;
}

/** Bound of the greatest level of a bank as stored, 0 Hz to half the sample rate; no less than the exact bank's. */
export function storedMaximumDb(
  filters: readonly Filter[],
  deviationDb: LevelAt,
  sampleRateHz: number,
): number {
  const { exact, stored } = maxima(filters, deviationDb, sampleRateHz, 0, sampleRateHz / 2);
  return Math.max(exact.maxDb, stored.maxDb);
}

function maxima(
  filters: readonly Filter[],
  deviationDb: LevelAt,
  sampleRateHz: number,
  fromHz: number,
  toHz: number,
): { readonly exact: BankMaximum; readonly stored: BankMaximum } {
  const exact = bankMaximum(filters, sampleRateHz, fromHz, toHz);
  const frequencyHz = featureFrequencies(filters, sampleRateHz, fromHz, toHz);
  const addedDb = deviationDb(frequencyHz);
  if (addedDb.every((db) => db === 0)) return { exact, stored: exact };
  const exactDb = bankResponseDb(filters, sampleRateHz, frequencyHz);
  const storedDb = exactDb.map((db, i) => db + addedDb[i]!);
  const greatest = (levels: Float64Array) =>
    levels.reduce((best, db, i) => (db > levels[best]! ? i : best), 0);
  const [before, after] = [greatest(exactDb), greatest(storedDb)];
  const stored = {
    maxDb: exact.maxDb + storedDb[after]! - exactDb[before]!,
    atHz: after === before ? exact.atHz : frequencyHz[after]!,
  };
  return { exact, stored };
}
