import { expect, test } from 'vitest';
import type { Filter } from '../../../src/filter/filter.js';
import { bandsFromFilters } from '../../../src/fit/bank/bands.js';
import { charged, opposedCharge } from '../../../src/fit/objective/gainCharge.js';
import { opposition } from '../../../src/fit/objective/opposition.js';
import { fitGrid } from '../../../src/fit/problem/fitGrid.js';
import { cookbookLevelDb } from '../independentCheck.js';
import { problemOf } from '../problems.js';

const grid = fitGrid(problemOf({ deviationDb: (hz) => hz.map(() => 0) }), 1);
const peak = (frequencyHz: number, gainDb: number, q: number): Filter => ({
  type: 'peaking',
  frequencyHz,
  gainDb,
  q,
});
const of = (...filters: Filter[]) => opposition(grid, bandsFromFilters(filters));

test('two equal bands of opposite sign cancel all that they do', () => {
  const { pairs, db } = of(peak(1000, 6, 2), peak(1000, -6, 2));
  expect(pairs).toHaveLength(1);
  expect(pairs[0]!.bands).toEqual([0, 1]);
  expect(pairs[0]!.likeness).toBeCloseTo(1, 6);
  // The grid may not hold 1 kHz itself.
  expect(pairs[0]!.cancelledDb).toBeCloseTo(6, 1);
  expect(db).toBeCloseTo(pairs[0]!.cancelledDb, 6);
});

test('bands of one sign are not opposed, nor are those that stand far apart to speak of', () => {
  expect(of(peak(1000, -6, 2), peak(1100, -3, 1)).pairs).toEqual([]);
  expect(of(peak(100, 6, 3), peak(8000, -6, 3)).db).toBeLessThan(1e-3);
});

test('a narrow cut in a broad boost counts for little', () => {
  const broad = peak(1000, 6, 0.6);
  expect(of(broad, peak(1000, -6, 8)).db).toBeLessThan(0.2 * of(broad, peak(1000, -6, 0.7)).db);
});

test('what a pair cancels is the lesser of the two levels by the cookbook, the greatest over the range', () => {
  const [a, b] = [peak(1400, -7.6, 0.76), peak(1430, 6, 2.6)];
  const lesser = Array.from(grid.frequencyHz.subarray(0, grid.errorPoints), (hz) =>
    Math.min(-cookbookLevelDb([a], 48000, hz), cookbookLevelDb([b], 48000, hz)),
  );
  expect(of(a, b).pairs[0]!.cancelledDb).toBeCloseTo(Math.max(...lesser), 9);
});

test('the charge leans on opposed gains as their opposition does, on no other number', () => {
  const filters = [peak(1000, 6, 2), peak(1000, -6, 2), peak(9000, 3, 4)];
  const bands = bandsFromFilters(filters);
  const charge = opposedCharge(opposition(grid, bands), bands, 0.1);
  charge.forEach((value, j) => {
    if (j % 3 !== 1) expect(value).toBe(0);
  });
  const step = 1e-4;
  const shrunk = filters.map((f, i) => (i < 2 ? { ...f, gainDb: f.gainDb * (1 - step) } : f));
  const fall = charged(charge, bands.values) - charged(charge, bandsFromFilters(shrunk).values);
  // Of both gains together: the opposition of the pair, which is in proportion to them, counts once for each.
  expect(fall / step).toBeCloseTo(0.1 * 2 * opposition(grid, bands).pairs[0]!.cancelledDb, 2);
});
