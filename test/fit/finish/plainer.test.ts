import { expect, test } from 'vitest';
import { bankResponseDb } from '../../../src/filter/bankResponseDb.js';
import type { Filter } from '../../../src/filter/filter.js';
import { bandsFromFilters, PEAKING } from '../../../src/fit/bank/bands.js';
import { boundsOf } from '../../../src/fit/bank/bounds.js';
import { finish } from '../../../src/fit/finish/finish.js';
import { measureExcess } from '../../../src/fit/objective/excess.js';
import { opposition } from '../../../src/fit/objective/opposition.js';
import { fitGrid } from '../../../src/fit/problem/fitGrid.js';
import { objectiveValue } from '../../../src/fit/refinement/objectiveValue.js';
import { createDictionary } from '../../../src/fit/search/dictionary.js';
import type { SearchSpace } from '../../../src/fit/search/searchSpace.js';
import { objectiveFor, problemOf } from '../problems.js';

const peak = (frequencyHz: number, gainDb: number, q: number): Filter => ({
  type: 'peaking',
  frequencyHz,
  gainDb,
  q,
});
/** Two cuts side by side, as well made by a broad cut with a boost in its middle, and ripple that no bank follows. */
const PLAIN = [peak(300, -4, 2), peak(800, -4.2, 2.2), peak(1700, -4.2, 2.2)];
const OPPOSED = [peak(300, -4, 2), peak(1160, -9, 0.7), peak(1170, 6, 1.6)];
const zones = [{ fromHz: 5000, toHz: 6000 }];
const problem = problemOf({
  zones,
  limits: { maxBands: 3, types: ['peaking'], maxBoostDb: 6 },
  deviationDb: (hz) => bankResponseDb(PLAIN, 48000, hz).map((db, p) => 0.5 * Math.sin(p / 2) - db),
});
const bounds = boundsOf(problem.limits);
const objective = objectiveFor(problem, 3);
const space: SearchSpace = {
  objective,
  dictionary: createDictionary(objective.grid, bounds, [PEAKING], true),
  bounds,
  maxBands: 3,
  types: [PEAKING],
};
const grid = fitGrid(problem, 1);
const finished = (filters: readonly Filter[], plainly: boolean) => {
  const bands = bandsFromFilters(filters);
  const found = [{ bands, value: objectiveValue(objective, bands), iterations: 0 }];
  const { bands: made, error } = finish(problem, space, found, { finalists: 2, plainly });
  return { made, rmsDb: Math.sqrt(error), opposedDb: opposition(grid, made).db };
};

test('a bank with an opposed pair comes out plainer at the same error, limits held', () => {
  const usual = finished(OPPOSED, false);
  const plain = finished(OPPOSED, true);
  expect(usual.opposedDb).toBeGreaterThan(1);
  expect(plain.opposedDb).toBeLessThan(0.5 * usual.opposedDb);
  expect(plain.rmsDb).toBeLessThan(usual.rmsDb * 1.01);
  for (const excessDb of Object.values(measureExcess(problem, plain.made)))
    expect(excessDb).toBeLessThan(1e-6);
});

test('a plain bank stays as it is', () => {
  const usual = finished(PLAIN, false);
  const plain = finished(PLAIN, true);
  expect(usual.opposedDb).toBeLessThan(0.05);
  expect(plain.rmsDb).toBeLessThan(usual.rmsDb + 1e-4);
  plain.made.values.forEach((value, j) => {
    expect(value).toBeCloseTo(usual.made.values[j]!, 1);
  });
});
