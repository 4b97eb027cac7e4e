import { expect, test } from 'vitest';
import { seededRandom } from '../../../fixtures/simulate/seededRandom.js';
import { EFFORTS } from '../../../src/fit/effort.js';
import { fitFilters } from '../../../src/fit/fitFilters.js';
import { problemOf, wavesDb } from '../problems.js';

/** Waves over a short range that nothing may be boosted in and little level given away: limits that take much back. */
function tightProblem(seed: number) {
  return problemOf({
    deviationDb: wavesDb(seed, 5),
    fromHz: 400,
    toHz: 2000,
    limits: { maxBands: 8, maxBoostDb: 0, maxLevelLossDb: 1 },
  });
}

test('limits made exact leave no band behind that is too faint to enter', () => {
  for (let seed = 1; seed <= 30; seed++) {
    const { filters } = fitFilters(tightProblem(seed), { random: seededRandom(1), effort: EFFORTS.quick });
    // What rounding into the limits takes back comes on top.
    for (const { gainDb } of filters) expect(Math.abs(gainDb)).toBeGreaterThan(0.19);
  }
});
