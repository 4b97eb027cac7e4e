import fc from 'fast-check';
import { expect, test } from 'vitest';
import { EFFORTS } from '../../src/fit/effort.js';
import { errorBound } from '../../src/fit/errorBound.js';
import { errorCurve } from '../../src/fit/errorCurve.js';
import { fitFilters } from '../../src/fit/fitFilters.js';
import { seededRandom } from '../../src/fit/seededRandom.js';
import { logarithmic, uniform } from '../filter/filterArbitrary.js';
import { problemOf, wander } from '../fit/problems.js';

/** Limits tight enough that most of these curves run into one of them. */
const tightProblem = fc
  .record({
    deviationDb: wander,
    fromHz: logarithmic(30, 120),
    boostFromHz: fc.option(logarithmic(60, 400), { nil: undefined }),
    levelDb: fc.option(uniform(-3, 3), { nil: undefined }),
    zone: fc.option(fc.tuple(logarithmic(200, 4000), uniform(0.1, 0.7)), { nil: undefined }),
    maxBoostDb: uniform(0, 3),
    maxLevelLossDb: uniform(0, 3),
    maxBands: fc.constantFrom(12, 16),
  })
  .map(({ zone, maxBoostDb, maxLevelLossDb, maxBands, ...rest }) =>
    problemOf({
      ...rest,
      zones: zone ? [{ fromHz: zone[0], toHz: zone[0] * 2 ** zone[1] }] : [],
      limits: { maxBoostDb, maxLevelLossDb, maxBands },
    }),
  );

test('no bank of many bands leaves less than the bound, within 1 %', () => {
  const shares: number[] = [];
  fc.assert(
    fc.property(tightProblem, (problem) => {
      const bound = errorBound(problem);
      const { rmsDb, filters } = fitFilters(problem, { random: seededRandom(1), effort: EFFORTS.quick });
      if (bound > 0.3 && filters.length > 0) shares.push(rmsDb / bound);
      expect(rmsDb).toBeGreaterThan(0.99 * bound);
    }),
    { numRuns: 24, seed: 7 },
  );
  // It is no bound by being far away either: where the limits bite, many bands come near it.
  const sorted = shares.sort((a, b) => a - b);
  expect(sorted.length).toBeGreaterThan(10);
  expect(sorted[sorted.length >> 1]!).toBeLessThan(1.25);
});

test('the error against the number of bands never rises and keeps above the bound', () => {
  fc.assert(
    fc.property(tightProblem, (problem) => {
      const { points, kneeBands } = errorCurve(problem, { random: seededRandom(1), maxBands: 6 });
      expect(points.map(({ bands }) => bands)).toEqual([0, 1, 2, 3, 4, 5, 6]);
      points.slice(1).forEach(({ rmsDb }, i) => {
        expect(rmsDb).toBeLessThanOrEqual(points[i]!.rmsDb);
      });
      expect(points[6]!.rmsDb).toBeGreaterThan(0.97 * errorBound(problem));
      expect(kneeBands).toBeGreaterThanOrEqual(0);
      expect(kneeBands).toBeLessThanOrEqual(6);
    }),
    { numRuns: 12, seed: 11 },
  );
});
