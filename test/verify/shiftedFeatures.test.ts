import { describe, expect, test } from 'vitest';
import { logGrid } from '../../src/curve/logGrid.js';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import type { Filter } from '../../src/filter/filter.js';
import { shiftedFeatures } from '../../src/verify/shiftedFeatures.js';
import { verifyDesign } from '../../src/verify/verifyDesign.js';
import { bank, designOf, roomDb, sampleRateHz } from './smallRoom.js';

const frequencyHz = logGrid(32, 20000, 24);
const flat = frequencyHz.map(() => 80);
const before = frequencyHz.map((hz) => roomDb(hz, 0.3));
const after = frequencyHz.map((hz) => roomDb(hz, 0.38));
/** Lifts the place where the dip of `after` lies. */
const lift: Filter = { type: 'peaking', frequencyHz: 226, gainDb: 2, q: 1.5 };
const withEq = (db: Float64Array, filters: readonly Filter[], sign: 1 | -1) => {
  const eqDb = bankResponseDb(filters, sampleRateHz, frequencyHz);
  return db.map((level, i) => level + sign * eqDb[i]!);
};

describe('dips that lie elsewhere', () => {
  test('are found where they are in both curves, also where a filter lifts the place where they went', () => {
    for (const filters of [[], [lift]]) {
      const [first] = shiftedFeatures(frequencyHz, before, after, withEq(after, filters, 1));
      // A quarter of a wavelength in 0.30 m and in 0.38 m; the box's fall and the wide ripple bend both a little.
      expect(Math.abs(Math.log2(first!.beforeHz / (343 / 4 / 0.3)))).toBeLessThan(0.1);
      expect(Math.abs(Math.log2(first!.afterHz / (343 / 4 / 0.38)))).toBeLessThan(0.1);
    }
  });

  test('go to one place each: of two that could have gone to the same only one is named', () => {
    const dip = (hz: number, atHz: number) => -8 * Math.exp(-((Math.log2(hz / atHz) / 0.08) ** 2));
    const two = frequencyHz.map((hz) => 80 + dip(hz, 300) + dip(hz, 500));
    const one = frequencyHz.map((hz) => 80 + dip(hz, 430));
    const places = shiftedFeatures(frequencyHz, two, one, one).map(({ afterHz }) => afterHz);
    expect(places).toHaveLength(1);
    expect(Math.abs(Math.log2(places[0]! / 430))).toBeLessThan(1 / 24);
  });

  test('are not made of filters that were taken off a curve without them', () => {
    // What boosts at the place that a dip could have moved to leaves a dip of its own shape when it is taken off.
    const boost: Filter = { type: 'peaking', frequencyHz: 190, gainDb: 6, q: 3 };
    const without = withEq(flat, [boost], -1);
    expect(shiftedFeatures(frequencyHz, before, without, without)).toHaveLength(1);
    expect(shiftedFeatures(frequencyHz, before, without, flat)).toEqual([]);
  });
});

test('no dip is named in a flat line', () => {
  const filters: Filter[] = [{ type: 'peaking', frequencyHz: 1330, gainDb: 5, q: 3 }, ...bank.slice(0, 2)];
  for (const design of [designOf(), designOf(filters)]) {
    const result = verifyDesign({ design, after: { frequencyHz, levelDb: flat } });
    expect(result.asPromised).toBe(false);
    expect(result.shifted).toEqual([]);
    for (const { message } of result.faults) expect(message).not.toContain('now lies near');
  }
});
