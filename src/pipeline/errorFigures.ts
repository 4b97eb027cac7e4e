import type { FrequencyRange } from '../curve/curve.js';
import { isInside } from '../curve/isInside.js';
import { octaveWeights } from '../curve/octaveWeights.js';
import { spreadOf } from '../curve/spreadOf.js';
import { weightedRms } from '../curve/weightedRms.js';
import { roundDb } from './rounding.js';

export interface ErrorFigures {
  readonly beforeRmsDb: number;
  readonly afterRmsDb: number;
  readonly beforeMaxDb: number;
  readonly afterMaxDb: number;
}

/**
 * Error about the target before and after, every octave weighing the same.
 *
 * @param errorDb measurement minus target with its level, n points
 * @param eqDb sum of the EQ, n points
 * @param leftOut spans that do not count
 */
export function errorFigures(
  frequencyHz: Float64Array,
  errorDb: Float64Array,
  eqDb: Float64Array,
  leftOut: readonly FrequencyRange[],
): ErrorFigures {
  const weights = countedWeights(frequencyHz, leftOut);
  const after = errorDb.map((e, i) => e + eqDb[i]!);
  return {
    beforeRmsDb: roundDb(weightedRms(errorDb, weights)),
    afterRmsDb: roundDb(weightedRms(after, weights)),
    beforeMaxDb: roundDb(greatest(errorDb, weights)),
    afterMaxDb: roundDb(greatest(after, weights)),
  };
}

/** RMS before and after, each about its own mean. Arguments as for `errorFigures`. */
export function unevenness(
  frequencyHz: Float64Array,
  errorDb: Float64Array,
  eqDb: Float64Array,
  leftOut: readonly FrequencyRange[],
): { readonly beforeRmsDb: number; readonly afterRmsDb: number } {
  const weights = countedWeights(frequencyHz, leftOut);
  const aboutMean = (values: Float64Array) => roundDb(spreadOf(values, weights));
  return { beforeRmsDb: aboutMean(errorDb), afterRmsDb: aboutMean(errorDb.map((e, i) => e + eqDb[i]!)) };
}

/** Every octave weighing the same, what is left out nothing. */
export function countedWeights(frequencyHz: Float64Array, leftOut: readonly FrequencyRange[]): Float64Array {
  return octaveWeights(frequencyHz).map((w, i) => (isInside(frequencyHz[i]!, leftOut) ? 0 : w));
}

function greatest(values: Float64Array, weights: Float64Array): number {
  return values.reduce((most, value, i) => (weights[i]! > 0 ? Math.max(most, Math.abs(value)) : most), 0);
}
