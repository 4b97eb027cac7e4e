import { bankResponseDb } from '../../filter/bankResponseDb.js';
import type { Filter } from '../../filter/filter.js';
import type { LevelAt } from '../../fit/objective/excess.js';
import { countedOnly } from '../../fit/problem/countedOnly.js';
import type { FitProblem } from '../../fit/problem/fitProblem.js';

/** Level and weighted RMS of what remains, as the device will do it. */
export function realError(problem: FitProblem, filters: readonly Filter[], deviationDb?: LevelAt) {
  const { frequencyHz, weight } = problem;
  const eqDb = bankResponseDb(filters, problem.sampleRateHz, frequencyHz);
  const added = deviationDb?.(frequencyHz);
  const total = weight.reduce((sum, w) => sum + w, 0) || 1;
  const reached = problem.deviationDb.map((db, i) => db + eqDb[i]! + (added?.[i] ?? 0));
  const mean = reached.reduce((sum, db, i) => sum + weight[i]! * db, 0) / total;
  const levelDb = problem.levelDb ?? mean;
  const squares = reached.reduce((sum, db, i) => sum + weight[i]! * (db - levelDb) ** 2, 0);
  return { levelDb, rmsDb: Math.sqrt(squares / total) };
}

/**
 * Weighted RMS as a design states it: about the level that `problem` is brought to, over `stated`, without what lies in
 * protected zones. The lines that stand for dips there steer the level but are no error.
 *
 * @param stated the curve that is told of; another than the problem's where that leans towards some positions
 */
export function statedRmsDb(
  problem: FitProblem,
  stated: FitProblem,
  filters: readonly Filter[],
  deviationDb?: LevelAt,
): number {
  const { levelDb } = realError(problem, filters, deviationDb);
  return realError({ ...countedOnly(stated), levelDb }, filters, deviationDb).rmsDb;
}
