import { expect, test } from 'vitest';
import { bankMean } from '../../src/filter/bankMean.js';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import type { Filter } from '../../src/filter/filter.js';
import { bandsFromFilters } from '../../src/fit/bank/bands.js';
import { fitFilters } from '../../src/fit/fitFilters.js';
import { meanOverRange } from '../../src/fit/objective/excess.js';
import { seededRandom } from '../../src/fit/seededRandom.js';
import { problemOf } from './problems.js';

/** The grid has no point at either end. */
const range = { fromHz: 60, toHz: 14000 };
const bank: readonly Filter[] = [
  { type: 'lowShelf', frequencyHz: 90, gainDb: -9, q: 0.9 },
  { type: 'peaking', frequencyHz: 14000, gainDb: -8, q: 3 },
];
const problem = {
  ...problemOf({ ...range, deviationDb: (hz) => bankResponseDb(bank, 48000, hz).map((db) => 3 - db) }),
  range,
};

test('is that of the whole range, which the points of the grid do not reach', () => {
  const exact = bankMean(bank, 48000, range.fromHz, range.toHz);
  expect(meanOverRange(problem, bandsFromFilters(bank))).toBeCloseTo(exact, 3);
  const ofGrid = meanOverRange({ ...problem, range: undefined! }, bandsFromFilters(bank));
  expect(Math.abs(ofGrid - exact)).toBeGreaterThan(0.005);
});

test('a fit that gives away all that it may keeps to it over the whole range', () => {
  const limits = { ...problem.limits, maxLevelLossDb: 0.5 };
  const { filters } = fitFilters(
    { ...problem, limits },
    { random: seededRandom(1), effort: { hopsPerBand: 2, pointsPerOctave: 16, finalists: 1 } },
  );
  const mean = bankMean(filters, 48000, range.fromHz, range.toHz);
  expect(mean).toBeGreaterThan(-0.5005);
  expect(mean).toBeLessThan(-0.4);
});
