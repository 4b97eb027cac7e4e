import { weightedMean } from './weightedMean.js';
import { weightedRms } from './weightedRms.js';

/** Weighted RMS about the weighted mean: what no change of level removes. */
export function spreadOf(values: Float64Array, weights: Float64Array): number {
  const mean = weightedMean(values, weights);
  return weightedRms(
    values.map((v) => v - mean),
    weights,
  );
}
