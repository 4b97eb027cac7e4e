import type { Curve, FrequencyRange } from '../curve/curve.js';
import { shapeDigest } from '../curve/shapeDigest.js';
import { sliceCurve } from '../curve/sliceCurve.js';
import { weightedMean } from '../curve/weightedMean.js';
import type { Measurement } from '../measurement/measurement.js';
import type { Design } from '../schema/design.js';
import { unevenness } from './errorFigures.js';
import { roundDb } from './rounding.js';
import { titleOf } from './titleOf.js';

/**
 * What each position's curve is too high or too low by, all brought to the average's mean level: how loud each was says
 * nothing of its shape, and one EQ for all cannot mend it.
 *
 * @param positions smoothed, on one grid
 * @param averageDb the same for the average of the positions
 * @param shapeDb the target's shape over the range, n points, as all others
 * @param weight of the squared error
 */
export function positionDeviations(
  positions: readonly Curve[],
  range: FrequencyRange,
  {
    averageDb,
    shapeDb,
    weight,
  }: { readonly averageDb: Float64Array; readonly shapeDb: Float64Array; readonly weight: Float64Array },
): Float64Array[] {
  const mean = weightedMean(averageDb, weight);
  return positions.map((curve) => {
    const { levelDb } = sliceCurve(curve, range);
    const deviationDb = levelDb.map((db, i) => db - shapeDb[i]!);
    const shiftDb = mean - weightedMean(deviationDb, weight);
    return deviationDb.map((db) => Math.round((db + shiftDb) * 1e6) / 1e6);
  });
}

/** What one EQ does at each of several positions. */
export function positionFigures(
  measurements: readonly Pick<Measurement, 'fileName' | 'curve'>[],
  positionsDb: readonly Float64Array[],
  frequencyHz: Float64Array,
  eqDb: Float64Array,
  zones: readonly FrequencyRange[],
): Pick<NonNullable<Design['positions']>, 'worstBeforeRmsDb' | 'worstAfterRmsDb' | 'each'> {
  const each = positionsDb.map((db, i) => ({
    name: titleOf([{ fileName: measurements[i]!.fileName, comments: [] }]),
    ...unevenness(frequencyHz, db, eqDb, zones),
    digest: shapeDigest(measurements[i]!.curve),
  }));
  return {
    worstBeforeRmsDb: roundDb(Math.max(...each.map(({ beforeRmsDb }) => beforeRmsDb))),
    worstAfterRmsDb: roundDb(Math.max(...each.map(({ afterRmsDb }) => afterRmsDb))),
    each,
  };
}
