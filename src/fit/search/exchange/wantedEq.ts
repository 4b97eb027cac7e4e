import type { Objective } from '../../objective/objective.js';

const HALVINGS = 50;
/** No level lies further from 0 dB. */
const FARTHEST_DB = 300;

/**
 * The EQ that brings every point of the grid to one level, as far as its cap allows: to the level that is given, or else to the
 * lowest that the mean of the EQ may fall to, since the fewest caps stand in the way there.
 */
export function wantedEq({ grid, options }: Objective): Float64Array {
  const { deviationDb, capDb, meanShare } = grid;
  const eqAt = (level: number) => deviationDb.map((db, p) => Math.min(capDb[p]!, level - db));
  const mean = (eqDb: Float64Array) => eqDb.reduce((sum, db, p) => sum + meanShare[p]! * db, 0);
  if (options.levelDb !== undefined) return eqAt(options.levelDb);
  let [low, high] = [-FARTHEST_DB, FARTHEST_DB];
  for (let step = 0; step < HALVINGS; step++) {
    const middle = (low + high) / 2;
    if (mean(eqAt(middle)) < -options.maxLevelLossDb) low = middle;
    else high = middle;
  }
  return eqAt(high);
}
