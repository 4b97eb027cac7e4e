import { describe, expect, test } from 'vitest';
import { searchFrequencies } from '../../../src/device/grid/searchFrequencies.js';
import { bankResponseDb } from '../../../src/filter/bankResponseDb.js';
import type { Filter } from '../../../src/filter/filter.js';
import { bandsFromFilters } from '../../../src/fit/bank/bands.js';
import { boundsOf } from '../../../src/fit/bank/bounds.js';
import { createObjective } from '../../../src/fit/objective/objective.js';
import { cellGrid } from '../../../src/fit/problem/fitGrid.js';
import { seededRandom } from '../../../src/fit/seededRandom.js';
import { problemOf } from '../../fit/problems.js';

const thirdsHz = Array.from({ length: 25 }, (_, i) => 1000 * 2 ** ((i - 12) / 3));
const lnF = Float64Array.from(thirdsHz, Math.log);
const START = bandsFromFilters([{ type: 'peaking', frequencyHz: 1000, gainDb: 1, q: 1 }]);

function spaceOf(speaker: readonly Filter[], maxBands: number, mostShelves = maxBands) {
  const problem = problemOf({ deviationDb: (hz) => bankResponseDb(speaker, 48000, hz) });
  const objective = createObjective(cellGrid(problem, 3), maxBands, {
    penalty: 200,
    restraint: 0,
    levelRestraint: 0,
    maxLevelLossDb: problem.limits.maxLevelLossDb,
  });
  const isAllowed = (types: readonly number[]) =>
    types.length <= maxBands && types.filter((type) => type > 0).length <= mostShelves;
  return { objective, bounds: boundsOf(problem.limits), lnF, types: [0, 1, 2], maxBands, isAllowed };
}

/** Bands at frequencies of the list that an EQ within the limits undoes exactly. */
function speakerOf(seed: number, count: number): Filter[] {
  const random = seededRandom(seed);
  return Array.from({ length: count }, (_, i) => ({
    type: i === 0 ? 'lowShelf' : 'peaking',
    frequencyHz: thirdsHz[3 + 4 * i + Math.floor(3 * random())]!,
    gainDb: (random() < 0.5 ? -1 : 1) * (1.5 + 3 * random()),
    q: i === 0 ? 0.7 : 0.8 + 2.5 * random(),
  }));
}

describe('searchFrequencies', () => {
  test.each([1, 2, 3, 4, 5, 6])(
    'leaves a tenth of a step of gain where a bank would leave nothing (seed %i)',
    (seed) => {
      const space = spaceOf(speakerOf(seed, 5), 5);
      const [best] = searchFrequencies(space, START, 300, 4, seededRandom(seed));
      expect(Math.sqrt(best!.value)).toBeLessThan(0.05);
    },
  );

  test('only frequencies of the list, each set of them once, the best first', () => {
    const found = searchFrequencies(spaceOf(speakerOf(5, 5), 4), START, 100, 12, seededRandom(1));
    expect(found).toHaveLength(12);
    const keys = found.map(({ bands: { types, values } }) =>
      Array.from(types, (type, i) => `${type} ${lnF.indexOf(values[3 * i]!)}`).sort(),
    );
    for (const key of keys) expect(key.join()).not.toContain('-1');
    expect(new Set(keys.map(String)).size).toBe(12);
    found.slice(1).forEach(({ value }, i) => {
      expect(value).toBeGreaterThanOrEqual(found[i]!.value);
    });
  });

  test('no more bands of a type than allowed', () => {
    const found = searchFrequencies(spaceOf(speakerOf(6, 5), 5, 1), START, 100, 20, seededRandom(1));
    for (const { bands } of found) expect(bands.types.filter((type) => type > 0).length).toBeLessThan(2);
  });

  test('without a kick there is the bank given', () => {
    const found = searchFrequencies(spaceOf(speakerOf(7, 3), 3), START, 0, 4, seededRandom(1));
    expect(found).toHaveLength(1);
    expect(found[0]!.bands.values[0]).toBe(START.values[0]);
  });
});
