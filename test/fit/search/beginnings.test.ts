import { describe, expect, test } from 'vitest';
import { seededRandom, uniform } from '../../../fixtures/simulate/seededRandom.js';
import { bankResponseDb } from '../../../src/filter/bankResponseDb.js';
import { HIGH_SHELF, LOW_SHELF, PEAKING } from '../../../src/fit/bank/bands.js';
import { boundsOf } from '../../../src/fit/bank/bounds.js';
import { createObjective } from '../../../src/fit/objective/objective.js';
import { fitGrid } from '../../../src/fit/problem/fitGrid.js';
import { beginningsIn, MOST_TOO_MANY } from '../../../src/fit/search/beginnings.js';
import { createDictionary } from '../../../src/fit/search/dictionary.js';
import type { SearchSpace } from '../../../src/fit/search/searchSpace.js';
import { LIMITS, problemOf, wavesDb } from '../problems.js';

const ALL = [PEAKING, LOW_SHELF, HIGH_SHELF];
const never = () => false;

const wavesSpace = (seed: number, maxBands: number, types: readonly number[] = ALL) =>
  spaceOf(wavesDb(seed, 8), maxBands, types);

function spaceOf(
  deviationDb: (hz: Float64Array) => Float64Array,
  maxBands: number,
  types: readonly number[] = ALL,
): SearchSpace {
  const problem = problemOf({ deviationDb });
  const bounds = boundsOf(LIMITS);
  const objective = createObjective(fitGrid(problem, 3), maxBands + MOST_TOO_MANY, {
    penalty: 15,
    restraint: 0,
    levelRestraint: 0,
    maxLevelLossDb: 12,
  });
  const dictionary = createDictionary(objective.grid, bounds, types, true);
  return { objective, dictionary, bounds, maxBands, types };
}

describe('beginnings', () => {
  test.each([
    [ALL, 4],
    [[PEAKING], 1],
    [[LOW_SHELF, PEAKING], 2],
    [[HIGH_SHELF], 1],
    [[], 1],
  ] as const)('of kinds %j are %i, and hold no other kinds and no more bands', (types, count) => {
    for (const maxBands of [0, 1, 5]) {
      const beginnings = beginningsIn(wavesSpace(3, maxBands, types), seededRandom(1), never);
      expect(beginnings.count).toBe(count);
      for (let round = 0; round < count + 3; round++) {
        const { bands } = beginnings.grown(round);
        expect(bands.types.length).toBeLessThanOrEqual(maxBands);
        expect([...bands.types].every((type) => (types as readonly number[]).includes(type))).toBe(true);
      }
    }
  });

  test('are one of peaks alone and one of low shelves alone among them', () => {
    const { grown } = beginningsIn(wavesSpace(4, 8), seededRandom(1), never);
    expect(new Set(grown(0).bands.types)).toEqual(new Set([PEAKING]));
    expect(new Set(grown(1).bands.types)).toEqual(new Set([LOW_SHELF]));
  });

  test('of low shelves alone come nearest where the curve is a staircase', () => {
    const random = seededRandom(7);
    for (let seed = 0; seed < 4; seed++) {
      const stairs = Array.from({ length: 6 }, (_, i) => ({
        type: 'lowShelf' as const,
        frequencyHz: 60 * 2.5 ** (i + uniform(random, 0, 0.6)),
        gainDb: (i % 2 === 0 ? 1 : -1) * uniform(random, 2, 4),
        q: uniform(random, 1, 4),
      }));
      const space = spaceOf((hz) => bankResponseDb(stairs, 48000, hz).map((db) => -db), 6);
      const { count, grown } = beginningsIn(space, seededRandom(1), never);
      const values = Array.from({ length: count }, (_, round) => grown(round).value);
      expect(values[1]).toBe(Math.min(...values));
    }
  });
});
