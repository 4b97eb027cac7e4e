import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { turnedShelves } from '../../../src/device/grid/turnedShelves.js';
import { bankResponseDb } from '../../../src/filter/bankResponseDb.js';
import type { Filter } from '../../../src/filter/filter.js';
import { bandsFromFilters, filtersFromBands } from '../../../src/fit/bank/bands.js';
import { boundsOf } from '../../../src/fit/bank/bounds.js';
import { objectiveValue } from '../../../src/fit/refinement/objectiveValue.js';
import { bank, LIMITS, objectiveFor, problemOf, wander } from '../../fit/problems.js';

const points = Float64Array.from({ length: 40 }, (_, i) => 25 * 2 ** (i / 4)).filter((hz) => hz < 20000);
const any = () => true;

const cuts: readonly Filter[] = [
  { type: 'lowShelf', frequencyHz: 300, gainDb: -5, q: 0.8 },
  { type: 'peaking', frequencyHz: 1500, gainDb: -2, q: 2 },
];

/** A speaker that those cuts would mend, were the loss of level not too much. */
const problem = problemOf({
  deviationDb: (hz) => bankResponseDb(cuts, 48000, hz).map((db) => -db),
  limits: { maxLevelLossDb: 1 },
});
const objective = objectiveFor(problem, 6, { penalty: 200 });
const bounds = boundsOf(problem.limits);

describe('shelves turned', () => {
  test('boost the highs in place of a cut of the lows that costs too much level', () => {
    const turned = turnedShelves(objective, bounds, bandsFromFilters(cuts), any);
    const filters = filtersFromBands(turned);
    expect(filters[0]).toMatchObject({ type: 'highShelf', gainDb: 5 });
    expect(objectiveValue(objective, turned)).toBeLessThan(0.01);
    const [before, after] = [cuts, filters].map((of) => bankResponseDb(of, 48000, points));
    for (let i = 0; i < points.length; i++) expect(after![i]! - before![i]!).toBeCloseTo(5, 9);
  });

  test('not where the device has no place for such a shelf', () => {
    const start = bandsFromFilters(cuts);
    expect(turnedShelves(objective, bounds, start, (types) => !types.includes(2))).toBe(start);
  });

  test('not beyond the greatest boost', () => {
    const narrow = boundsOf({ ...LIMITS, maxBoostDb: 4 });
    const start = bandsFromFilters(cuts);
    expect(turnedShelves(objective, narrow, start, any)).toBe(start);
  });

  test('leave the shape of any bank as it was and never raise its objective', () => {
    fc.assert(
      fc.property(wander, bank(1, 5), (deviationDb, bands) => {
        const of = objectiveFor(problemOf({ deviationDb, limits: { maxLevelLossDb: 0.5 } }), 6);
        const turned = turnedShelves(of, boundsOf({ ...LIMITS, maxBoostDb: 12 }), bands, any);
        expect(objectiveValue(of, turned)).toBeLessThanOrEqual(objectiveValue(of, bands));
        const [a, b] = [bands, turned].map((x) => bankResponseDb(filtersFromBands(x), 48000, points));
        const differences = a!.map((db, i) => b![i]! - db);
        for (const db of differences) expect(db).toBeCloseTo(differences[0]!, 8);
      }),
      { numRuns: 50 },
    );
  });
});
