import { expect, test } from 'vitest';
import { EFFORTS } from '../../../src/fit/effort.js';
import { fitFilters } from '../../../src/fit/fitFilters.js';
import { seededRandom } from '../../../src/fit/seededRandom.js';
import { optimumCases } from '../../evaluate/optimumCases.js';

test('a long search that ends among banks which lean on soft limits still has the one that does not', () => {
  const { problem } = optimumCases().find(({ id }) => id === 'room 3/304')!;
  const [quick, long] = [EFFORTS.normal, EFFORTS.thorough].map((effort) => {
    let leaningDb = Number.POSITIVE_INFINITY;
    const onBetter = (_: unknown, rmsDb: number) => {
      leaningDb = rmsDb;
    };
    return { ...fitFilters(problem, { random: seededRandom(1), effort, onBetter }), leaningDb };
  });
  // What the search takes for its best gives way at the limits, or this case would show nothing.
  expect(long!.leaningDb).toBeLessThan(0.98 * long!.rmsDb);
  expect(long!.rmsDb).toBeLessThan(1.001 * quick!.rmsDb);
});
