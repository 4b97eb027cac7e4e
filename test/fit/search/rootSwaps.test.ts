import { describe, expect, test } from 'vitest';
import { bankResponseDb } from '../../../src/filter/bankResponseDb.js';
import type { Filter, FilterType } from '../../../src/filter/filter.js';
import { bandsFromFilters, HIGH_SHELF, LOW_SHELF, PEAKING } from '../../../src/fit/bank/bands.js';
import { boundsOf, isWithin } from '../../../src/fit/bank/bounds.js';
import { createObjective } from '../../../src/fit/objective/objective.js';
import { fitGrid } from '../../../src/fit/problem/fitGrid.js';
import { objectiveValue } from '../../../src/fit/refinement/objectiveValue.js';
import { type Refined, refine } from '../../../src/fit/refinement/refine.js';
import { createDictionary } from '../../../src/fit/search/dictionary.js';
import { nextRootSwap } from '../../../src/fit/search/rootSwaps.js';
import { THOROUGH } from '../../../src/fit/search/searchSpace.js';
import { LIMITS, problemOf } from '../problems.js';

const SAMPLE_RATE_HZ = 48000;
const ALL = [PEAKING, LOW_SHELF, HIGH_SHELF];
const filter = (type: FilterType, frequencyHz: number, gainDb: number, q: number): Filter => ({
  type,
  frequencyHz,
  gainDb,
  q,
});

describe('root swaps', () => {
  // Sharp shelves against each other, and beside them a peak.
  const wanted = [
    filter('lowShelf', 84, 12, 2.5),
    filter('lowShelf', 92, -12, 3.5),
    filter('peaking', 2000, -5, 2),
  ];
  const limits = { ...LIMITS, maxBands: 3, maxBoostDb: 18, maxCutDb: 18, maxLevelLossDb: 12 };
  const problem = problemOf({
    deviationDb: (hz) => bankResponseDb(wanted, SAMPLE_RATE_HZ, hz).map((db) => -db),
    limits,
  });
  const bounds = boundsOf(limits);
  const objective = createObjective(fitGrid(problem, 3), 8, {
    penalty: 15,
    restraint: 0,
    levelRestraint: 0,
    maxLevelLossDb: 12,
  });
  const space = {
    objective,
    dictionary: createDictionary(objective.grid, bounds, ALL, true),
    bounds,
    maxBands: 3,
    types: ALL,
  };
  const refined = (filters: readonly Filter[]): Refined =>
    refine(objective, bandsFromFilters(filters), bounds, THOROUGH);
  const asPeaks = refined([
    filter('peaking', 60, -3, 3),
    filter('peaking', 130, 3, 3),
    filter('peaking', 2000, -5, 2),
  ]);
  const allSwaps = (where: Parameters<typeof nextRootSwap>[0], bank: Refined) => {
    const swaps: Refined[] = [];
    for (let swap = nextRootSwap(where, bank); swap; swap = nextRootSwap(where, bank)) swaps.push(swap);
    return swaps;
  };

  test('lead from two peaks to the two shelves that they nearly are', () => {
    const best = allSwaps(space, asPeaks).sort((a, b) => a.value - b.value)[0]!;
    expect(best.value).toBeLessThan(1e-3 * asPeaks.value);
    expect(Array.from(best.bands.types).sort()).toEqual([PEAKING, LOW_SHELF, LOW_SHELF].sort());
  });

  test('come to an end, each a whole bank within its bounds whose value is what it says', () => {
    const swaps = allSwaps(space, { ...asPeaks });
    expect(swaps.length).toBeGreaterThan(1);
    for (const { bands, value } of swaps) {
      expect(bands.types).toHaveLength(3);
      expect(isWithin(bands, bounds)).toBe(true);
      expect(value).toBeCloseTo(objectiveValue(objective, bands), 9);
    }
  });

  test('keep to the types that can be had', () => {
    const slots = [[PEAKING], [PEAKING], [PEAKING, HIGH_SHELF]];
    for (const { bands } of allSwaps({ ...space, slots }, { ...asPeaks })) {
      expect(Array.from(bands.types).filter((type) => type === HIGH_SHELF).length).toBeLessThan(2);
      expect(bands.types).not.toContain(LOW_SHELF);
    }
  });

  test('there are none of bands that lie far from each other', () => {
    const far = refined([filter('peaking', 100, 3, 3), filter('peaking', 2000, -5, 2)]);
    expect(nextRootSwap(space, far)).toBeUndefined();
  });
});
