import { describe, expect, test } from 'vitest';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import type { Filter } from '../../src/filter/filter.js';
import { EFFORTS } from '../../src/fit/effort.js';
import { fitFilters } from '../../src/fit/fitFilters.js';
import { fitPositions } from '../../src/fit/fitPositions.js';
import { seededRandom } from '../../src/fit/seededRandom.js';
import { brokenLimits } from './independentCheck.js';
import { problemOf } from './problems.js';

const minus = (filters: readonly Filter[]) => (hz: Float64Array) =>
  bankResponseDb(filters, 48000, hz).map((db) => -db);
const peak = (frequencyHz: number, gainDb: number): Filter => ({
  type: 'peaking',
  frequencyHz,
  gainDb,
  q: 1.5,
});

/** Three positions alike, and one with a hump of its own that one band can half mend for all. */
const USUAL = [peak(100, -4), peak(3000, 3)];
const ODD = [...USUAL, peak(700, -8)];
const problem = problemOf({ deviationDb: minus(USUAL), limits: { maxBands: 4 } });
const positions = [USUAL, USUAL, USUAL, ODD].map((bank) => minus(bank)(problem.frequencyHz));
const fitFor = (aim: 'mean' | 'worst') =>
  fitPositions(problem, positions, { random: seededRandom(1), effort: EFFORTS.quick, aim });

describe('one bank for several positions', () => {
  const mean = fitFor('mean');
  const worst = fitFor('worst');

  test('is that of their mean curve where the mean is to be small', () => {
    const deviationDb = positions[0]!.map((_, p) => positions.reduce((sum, db) => sum + db[p]! / 4, 0));
    const alone = fitFilters({ ...problem, deviationDb }, { random: seededRandom(1), effort: EFFORTS.quick });
    expect(mean.filters).toEqual(alone.filters);
  });

  test('makes the worst position better at the cost of the others where that is the aim', () => {
    expect(Math.max(...worst.positionsRmsDb)).toBeLessThan(0.85 * Math.max(...mean.positionsRmsDb));
    const square = (rms: readonly number[]) => rms.reduce((sum, db) => sum + db * db, 0);
    expect(square(worst.positionsRmsDb)).toBeGreaterThan(square(mean.positionsRmsDb));
    // Two kinds of position and one band between them: at the best both kinds are as bad.
    expect(worst.positionsRmsDb[0]! / worst.positionsRmsDb[3]!).toBeGreaterThan(0.9);
  });

  test('keeps every limit', () => {
    const range = { fromHz: problem.frequencyHz[0]!, toHz: problem.frequencyHz.at(-1)! };
    expect(brokenLimits(worst.filters, 48000, { range, zones: [], limits: problem.limits })).toEqual([]);
  });

  test('says of each position what remains there, about the one level', () => {
    const reached = positions[3]!.map(
      (db, p) => db + bankResponseDb(worst.filters, 48000, problem.frequencyHz)[p]! - worst.levelDb,
    );
    const rms = Math.sqrt(reached.reduce((sum, db) => sum + db * db, 0) / reached.length);
    expect(worst.positionsRmsDb[3]!).toBeCloseTo(rms, 1);
  });
});
