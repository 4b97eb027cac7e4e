import type { Curve, FrequencyRange } from '../curve/curve.js';
import { interpolateLevel } from '../curve/interpolateLevel.js';
import { isInside } from '../curve/isInside.js';
import { logGrid } from '../curve/logGrid.js';
import { octaveWeights } from '../curve/octaveWeights.js';
import { resampleToGrid } from '../curve/resampleToGrid.js';
import { roundDb } from '../curve/roundDb.js';
import { sliceCurve } from '../curve/sliceCurve.js';
import { smoothOctave } from '../curve/smoothOctave.js';
import { spreadOf } from '../curve/spreadOf.js';
import { weightedMean } from '../curve/weightedMean.js';
import { bankResponseDb } from '../filter/bankResponseDb.js';
import type { Checkable } from '../schema/checkable.js';
import type { Verification } from '../schema/verification.js';
import { type Comparison, type Seen, withRounding } from './comparison.js';
import { USUAL_SMOOTHING_OCTAVES } from './lessTold.js';

/** A design's curves are kept to a thousandth of a dB: a figure taken from them anew may differ by as much. */
const KEPT_TO_DB = 0.0015;

/**
 * How far promise, measurement and target lie apart over the design's range: on the grid, smoothing and counted spans
 * that the design's own figures are taken on, so that what it promises is told with the very figure it states.
 *
 * @param before without the filters
 * @param rounding what rounded coefficients add to the filters' own response
 */
export function distancesOf(
  { design, after, seen = {} }: { readonly design: Checkable; readonly after: Curve; readonly seen?: Seen },
  before: Curve,
  { gate, alike, range }: Comparison,
  rounding: Curve | undefined,
): Pick<Verification, 'errorRmsDb' | 'targetErrorRmsDb' | 'levelShiftDb'> {
  const { curves, limits, filters, sampleRateHz, unevenness, zones = [] } = design;
  const shared = sharedRange(range, [before, after], seen);
  const target = curves && sliceCurve(targetOf(curves), shared);
  const grid = target?.frequencyHz ?? logGrid(shared.fromHz, shared.toHz);
  const smoothingOctaves = limits?.smoothingOctaves ?? USUAL_SMOOTHING_OCTAVES;
  const smoothed = (curve: Curve) => smoothedOnGrid(curve, smoothingOctaves, grid);
  const beforeDb = smoothed(alike?.before ?? before);
  const measuredDb = smoothed(alike?.after ?? after);

  const through = alike?.throughFor(grid);
  const eqHz = through?.frequencyHz ?? grid;
  const cutDb = gate?.correctionDb(filters, sampleRateHz, eqHz);
  const ownDb = bankResponseDb(filters, sampleRateHz, eqHz).map((db, i) => db + (cutDb?.[i] ?? 0));
  const eqDb = withRounding(through ? through.shownDb(ownDb) : ownDb, grid, rounding);
  const promisedDb = beforeDb.map((db, i) => db + eqDb[i]!);

  const weights = octaveWeights(grid);
  const counted = weights.map((w, i) => (isInside(grid[i]!, zones) ? 0 : w));
  const differenceDb = measuredDb.map((db, i) => db - promisedDb[i]!);
  const stated = unevenness?.afterRmsDb;
  const aboutTarget = (targetDb: Float64Array) => {
    const spread = (levelDb: Float64Array) =>
      roundDb(
        spreadOf(
          levelDb.map((db, i) => db - targetDb[i]!),
          counted,
        ),
      );
    const promised = spread(promisedDb);
    const isAsStated = stated !== undefined && Math.abs(promised - stated) <= KEPT_TO_DB;
    return {
      promised: isAsStated ? stated : promised,
      measured: spread(measuredDb),
      ...(stated !== undefined && !isAsStated && { stated }),
    };
  };
  return {
    errorRmsDb: roundDb(spreadOf(differenceDb, weights)),
    ...(target && { targetErrorRmsDb: aboutTarget(target.levelDb) }),
    levelShiftDb: roundDb(weightedMean(differenceDb, weights)),
  };
}

const targetOf = ({ frequencyHz, targetDb }: NonNullable<Checkable['curves']>): Curve => ({
  frequencyHz: Float64Array.from(frequencyHz),
  levelDb: Float64Array.from(targetDb),
});

function sharedRange(
  range: FrequencyRange,
  curves: readonly Curve[],
  { resolvedFromHz = 0 }: Seen,
): FrequencyRange {
  return {
    fromHz: Math.max(range.fromHz, resolvedFromHz, ...curves.map(({ frequencyHz }) => frequencyHz[0]!)),
    toHz: Math.min(range.toHz, ...curves.map(({ frequencyHz }) => frequencyHz.at(-1)!)),
  };
}

/** Smoothed over all there is and read off on the grid afterwards, so that the ends are smoothed too. */
function smoothedOnGrid(curve: Curve, smoothingOctaves: number, grid: Float64Array): Float64Array {
  const { frequencyHz } = curve;
  const all = logGrid(frequencyHz[0]!, frequencyHz.at(-1)!);
  const smoothed = smoothOctave(resampleToGrid(curve, all), smoothingOctaves);
  return grid.map((hz) => interpolateLevel(smoothed, hz));
}
