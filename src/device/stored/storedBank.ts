import type { Filter } from '../../filter/filter.js';
import { type FixedPointFit, fixedPointFit } from '../../filter/fixedPointFit.js';
import type { LevelAt } from '../../fit/objective/excess.js';
import type { DeviceProfile } from '../profile/deviceProfile.js';
import { storedDeviationDb } from './realResponse.js';

/** Filters as the device's number format holds them. */
export interface StoredBank {
  /** One for each filter; empty where the device computes in floating point. */
  readonly fits: readonly FixedPointFit[];
  /** Filters that come out unstable or do not fit the format at all, by their place. */
  readonly impossible: readonly number[];
  readonly deviationDb: LevelAt;
}

const EXACT: StoredBank = {
  fits: [],
  impossible: [],
  deviationDb: (frequencyHz) => new Float64Array(frequencyHz.length),
};

export function storedBank(
  filters: readonly Filter[],
  { coefficients }: DeviceProfile,
  sampleRateHz: number,
): StoredBank {
  if (!coefficients?.fixedPoint) return EXACT;
  const { fixedPoint, feedbackSign } = coefficients;
  const fits = filters.map((filter) => fixedPointFit(filter, sampleRateHz, fixedPoint, { feedbackSign }));
  const stored = filters.map((filter, i) => ({ filter, coefficients: fits[i]!.rounded.coefficients }));
  return {
    fits,
    impossible: fits.flatMap(({ stable, rounded }, i) =>
      stable && rounded.overflow.length === 0 ? [] : [i],
    ),
    deviationDb: storedDeviationDb(stored, sampleRateHz),
  };
}
