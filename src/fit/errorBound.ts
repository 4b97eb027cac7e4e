import { log } from '../elementary/logarithm.js';
import { capAt } from './problem/fitGrid.js';
import type { FitProblem } from './problem/fitProblem.js';

const HALVINGS = 60;

/**
 * What no number of bands could take away: the weighted RMS that remains under the best EQ of any shape that keeps the
 * caps, the protected zones' ceilings and the greatest loss of level. The EQ that brings every point down to one level
 * and goes no higher than its cap is the best for that level; the lower the level, the fewer caps stand in the way, down
 * to where the mean of the EQ has fallen as far as it may.
 *
 * @returns dB, 0 where any curve could be made flat
 */
export function errorBound(problem: FitProblem): number {
  const { frequencyHz, deviationDb, weight, zones, levelDb, limits } = problem;
  const caps = frequencyHz.map((hz) => {
    const inside = zones.filter(({ fromHz, toHz }) => hz >= fromHz && hz <= toHz);
    return Math.min(capAt(problem, hz), ...inside.map(({ maxRiseDb }) => maxRiseDb));
  });
  const shares = logShares(frequencyHz);
  const eqAt = (level: number, p: number) => Math.min(caps[p]!, level - deviationDb[p]!);
  const meanEq = (level: number) => shares.reduce((sum, share, p) => sum + share * eqAt(level, p), 0);
  const remaining = (level: number, about?: number) => {
    const total = weight.reduce((sum, w) => sum + w, 0) || 1;
    const reached = deviationDb.map((db, p) => db + eqAt(level, p));
    const mean = about ?? reached.reduce((sum, db, p) => sum + weight[p]! * db, 0) / total;
    return Math.sqrt(reached.reduce((sum, db, p) => sum + weight[p]! * (db - mean) ** 2, 0) / total);
  };
  // Zones count in the mean but not in the error, and are let rise to their ceilings: the bound stays one.
  const inZone = frequencyHz.map((hz) =>
    Number(zones.some(({ fromHz, toHz }) => hz >= fromHz && hz <= toHz)),
  );
  const zoneMean = shares.reduce((sum, share, p) => sum + share * inZone[p]! * caps[p]!, 0);
  const outside = (level: number) =>
    meanEq(level) - shares.reduce((sum, share, p) => sum + share * inZone[p]! * eqAt(level, p), 0) + zoneMean;
  const [lowest, highest] = [Math.min(...deviationDb) - 200, Math.max(...deviationDb) + 200];
  const wanted = -limits.maxLevelLossDb;
  let [low, high] = [lowest, highest];
  for (let step = 0; step < HALVINGS; step++) {
    const middle = (low + high) / 2;
    if (outside(middle) < wanted) low = middle;
    else high = middle;
  }
  if (levelDb === undefined) return remaining(high);
  // A given level below what the mean allows is missed by as much.
  return levelDb >= high ? remaining(levelDb, levelDb) : remaining(high, levelDb);
}

/** Shares by the trapezoid rule in log frequency; they sum to 1. */
function logShares(frequencyHz: Float64Array): Float64Array {
  const n = frequencyHz.length;
  const spans = frequencyHz.map((_, i) =>
    log(frequencyHz[Math.min(i + 1, n - 1)]! / frequencyHz[Math.max(i - 1, 0)]!),
  );
  const total = spans.reduce((sum, span) => sum + span, 0);
  return spans.map((span) => span / total);
}
