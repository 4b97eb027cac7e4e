import type { Bands } from '../../bank/bands.js';
import { bankValues } from '../../bank/bankKernel.js';
import { levelOf, meanEq, type Objective } from '../../objective/objective.js';
import { lowerEdge } from '../../problem/fitGrid.js';

/** The objective's value; leaves `eqDb` and `residual` behind. */
export function value(objective: Objective, bands: Bands): number {
  const { grid, eqDb, backgroundDb } = objective;
  bankValues(bands.types, bands.values, grid.warped, grid.sampleRateHz, eqDb);
  for (let p = 0; p < eqDb.length; p++) eqDb[p]! += backgroundDb[p]!;
  return valueOfEq(objective);
}

/**
 * The whole value of the sum that stands in `eqDb`; leaves `residual` behind. Even and odd points are summed apart, as
 * they are where two numbers are reckoned with at a time (see kernel/).
 */
function valueOfEq(objective: Objective): number {
  const { grid, eqDb, residual, options } = objective;
  const { weight, deviationDb, capDb, errorPoints } = grid;
  const { penalty, restraint, levelRestraint, maxLevelLossDb } = options;
  const level = levelOf(objective);
  const sums = new Float64Array(2);
  const overs = new Float64Array(2);
  for (let p = 0; p < errorPoints; p++) {
    const eq = eqDb[p]!;
    const r = deviationDb[p]! + eq - level;
    residual[p] = r;
    sums[p & 1]! += weight[p]! * (r * r + restraint * (eq * eq));
  }
  for (let p = 0; p < eqDb.length; p++) {
    const over = eqDb[p]! - capDb[p]!;
    if (over > 0) overs[p & 1]! += over * over;
  }
  let squares = overs[0]! + overs[1]!;
  for (const zone of grid.zones) {
    const floor = eqDb[lowerEdge(zone, eqDb)]! - zone.maxFallDb;
    for (const p of zone.inside) {
      const under = floor - eqDb[p]!;
      if (under > 0) squares += under * under;
    }
  }
  const mean = meanEq(objective);
  const loss = Math.max(0, -maxLevelLossDb - mean);
  return (
    sums[0]! +
    sums[1]! +
    (penalty / errorPoints) * squares +
    levelRestraint * mean * mean +
    penalty * loss * loss
  );
}
