import { expect, test } from 'vitest';
import { seededRandom, uniform } from '../../fixtures/simulate/seededRandom.js';
import { EFFORTS } from '../../src/fit/effort.js';
import { fitFilters } from '../../src/fit/fitFilters.js';
import { problemOf } from './problems.js';

/** Waves over a short range that nothing may be boosted in and little level given away: limits that take much back. */
function tightProblem(seed: number) {
  const random = seededRandom(seed);
  const waves = Array.from({ length: 5 }, () => ({
    db: uniform(random, 0.3, 1.3),
    perOctave: uniform(random, 0.3, 1.8),
    phase: uniform(random, 0, 2 * Math.PI),
  }));
  const level = (hz: number) =>
    waves.reduce(
      (sum, { db, perOctave, phase }) =>
        sum + db * Math.sin(2 * Math.PI * perOctave * Math.log2(hz / 1000) + phase),
      0,
    );
  return problemOf({
    deviationDb: (hz) => hz.map(level),
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
