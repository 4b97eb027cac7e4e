import { describe, expect, test } from 'vitest';
import { bankResponseDb } from '../../../src/filter/bankResponseDb.js';
import type { Filter } from '../../../src/filter/filter.js';
import { bandsFromFilters, filtersFromBands, PEAKING } from '../../../src/fit/bank/bands.js';
import { boundsOf } from '../../../src/fit/bank/bounds.js';
import { createObjective } from '../../../src/fit/objective/objective.js';
import { fitGrid } from '../../../src/fit/problem/fitGrid.js';
import { objectiveValue } from '../../../src/fit/refinement/objectiveValue.js';
import { createDictionary } from '../../../src/fit/search/dictionary.js';
import { bestSplice, newSplicing } from '../../../src/fit/search/splices.js';
import { LIMITS, problemOf } from '../problems.js';

const SAMPLE_RATE_HZ = 48000;

const peak = (frequencyHz: number, gainDb: number, q: number): Filter => ({
  type: 'peaking',
  frequencyHz,
  gainDb,
  q,
});

describe('splicing banks', () => {
  const wanted = [peak(90, -5, 2), peak(300, 4, 3), peak(1200, -6, 2), peak(5000, 4, 3)];
  const problem = problemOf({
    deviationDb: (hz) => bankResponseDb(wanted, SAMPLE_RATE_HZ, hz).map((db) => -db),
  });
  const bounds = boundsOf(LIMITS);
  const objective = createObjective(fitGrid(problem, 3), 8, {
    penalty: 15,
    restraint: 0,
    levelRestraint: 0,
    maxLevelLossDb: 12,
  });
  const dictionary = createDictionary(objective.grid, bounds, [PEAKING], true);
  const space = { objective, dictionary, bounds, maxBands: 4, types: [PEAKING] };
  const bank = (filters: readonly Filter[]) => {
    const bands = bandsFromFilters(filters);
    return { bands, value: objectiveValue(objective, bands), iterations: 0 };
  };
  const splice = (banks: readonly ReturnType<typeof bank>[]) =>
    bestSplice(space, banks, banks, newSplicing());
  const rightBelow = bank([wanted[0]!, wanted[1]!, peak(800, 2, 1), peak(9000, -2, 1)]);
  const rightAbove = bank([peak(60, 2, 1), peak(500, -2, 1), wanted[2]!, wanted[3]!]);

  test('joins what is right in one below and in the other above', () => {
    const best = splice([rightBelow, rightAbove])!;
    expect(best.value).toBeLessThan(1e-4 * Math.min(rightBelow.value, rightAbove.value));
    filtersFromBands(best.bands).forEach((filter, i) => {
      expect(Math.abs(filter.gainDb - wanted[i]!.gainDb)).toBeLessThan(0.05);
    });
  });

  test('puts a piece from the middle of a bank that is worse as a whole where it belongs', () => {
    const outside = bank([wanted[0]!, peak(200, -2, 1), peak(2000, 2, 1), wanted[3]!]);
    const inside = bank([peak(60, 5, 1), wanted[1]!, wanted[2]!, peak(9000, 6, 1)]);
    expect(inside.value).toBeGreaterThan(outside.value);
    const best = bestSplice(space, [outside], [outside, inside], newSplicing())!;
    expect(best.value).toBeLessThan(1e-4 * outside.value);
  });

  test('looks at a pair of banks once only', () => {
    const splicing = newSplicing();
    const banks = [rightBelow, rightAbove];
    bestSplice(space, banks, banks, splicing);
    splicing.waiting = [];
    expect(bestSplice(space, banks, banks, splicing)).toBeUndefined();
  });

  test('has nothing to give where both are the same, or of different sizes', () => {
    expect(splice([rightBelow, rightBelow])).toBeUndefined();
    expect(splice([rightBelow, bank(wanted.slice(0, 3))])).toBeUndefined();
  });

  test('leaves no background behind for the evaluations after it', () => {
    splice([rightBelow, rightAbove]);
    expect(objectiveValue(objective, rightBelow.bands)).toBe(rightBelow.value);
  });
});
