import { describe, expect, test } from 'vitest';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import type { Filter } from '../../src/filter/filter.js';
import { bandsFromFilters, filtersFromBands, PEAKING } from '../../src/fit/bands.js';
import { boundsOf } from '../../src/fit/bounds.js';
import { createDictionary } from '../../src/fit/dictionary.js';
import { fitGrid } from '../../src/fit/fitGrid.js';
import { createObjective, objectiveValue } from '../../src/fit/objective.js';
import { bestSplice } from '../../src/fit/splices.js';
import { LIMITS, problemOf } from './problems.js';

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
  const rightBelow = bank([wanted[0]!, wanted[1]!, peak(800, 2, 1), peak(9000, -2, 1)]);
  const rightAbove = bank([peak(60, 2, 1), peak(500, -2, 1), wanted[2]!, wanted[3]!]);

  test('joins what is right in one below and in the other above', () => {
    const best = bestSplice(space, [rightBelow, rightAbove])!;
    expect(best.value).toBeLessThan(1e-4 * Math.min(rightBelow.value, rightAbove.value));
    filtersFromBands(best.bands).forEach((filter, i) => {
      expect(Math.abs(filter.gainDb - wanted[i]!.gainDb)).toBeLessThan(0.05);
    });
  });

  test('has nothing to give where both are the same, or of different sizes', () => {
    expect(bestSplice(space, [rightBelow, rightBelow])).toBeUndefined();
    expect(bestSplice(space, [rightBelow, bank(wanted.slice(0, 3))])).toBeUndefined();
  });

  test('leaves no background behind for the evaluations after it', () => {
    bestSplice(space, [rightBelow, rightAbove]);
    expect(objectiveValue(objective, rightBelow.bands)).toBe(rightBelow.value);
  });
});
