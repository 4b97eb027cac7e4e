import type { FrequencyRange } from '../curve/curve.js';
import { octaveWeights } from '../curve/octaveWeights.js';
import { weightedRms } from '../curve/weightedRms.js';
import { isInside } from '../fit/buildProblem.js';
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
  const weights = octaveWeights(frequencyHz).map((w, i) => (isInside(frequencyHz[i]!, leftOut) ? 0 : w));
  const after = errorDb.map((e, i) => e + eqDb[i]!);
  return {
    beforeRmsDb: roundDb(weightedRms(errorDb, weights)),
    afterRmsDb: roundDb(weightedRms(after, weights)),
    beforeMaxDb: roundDb(greatest(errorDb, weights)),
    afterMaxDb: roundDb(greatest(after, weights)),
  };
}

function greatest(values: Float64Array, weights: Float64Array): number {
  return values.reduce((most, value, i) => (weights[i]! > 0 ? Math.max(most, Math.abs(value)) : most), 0);
}
