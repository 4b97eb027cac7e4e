import { expect, test } from 'vitest';
import { realError } from '../../src/device/stored/realError.js';
import { EFFORTS } from '../../src/fit/effort.js';
import { fitFilters } from '../../src/fit/fitFilters.js';
import { seededRandom } from '../../src/fit/seededRandom.js';
import { problemOf } from './problems.js';

// Steep enough that means over the search's cells hide some of it.
const problem = problemOf({
  deviationDb: (hz) =>
    hz.map(
      (f) =>
        3 * Math.sin(9 * Math.log2(f)) + 2 * Math.sin(1.3 * Math.log2(f)) + 0.5 * Math.sin(60 * Math.log2(f)),
    ),
});

test.each([4, 9])(
  'a fit of %i bands tells of ever better banks, each with the error that it leaves on all points',
  (maxBands) => {
    const told: number[] = [];
    const { rmsDb } = fitFilters(
      { ...problem, limits: { ...problem.limits, maxBands } },
      {
        random: seededRandom(3),
        effort: { ...EFFORTS.normal, hopsPerBand: 6, kicks: 250 },
        onBetter: (filters, said) => {
          expect(said).toBeCloseTo(realError(problem, filters).rmsDb, 9);
          told.push(said);
        },
      },
    );
    expect(told.length).toBeGreaterThan(1);
    expect(told).toEqual([...told].sort((a, b) => b - a));
    expect(new Set(told).size).toBe(told.length);
    // The finish brings it within the limits and may better it.
    expect(told.at(-1)!).toBeGreaterThan(0.9 * rmsDb);
  },
);
