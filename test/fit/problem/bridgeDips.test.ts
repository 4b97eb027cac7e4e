import { expect, test } from 'vitest';
import { EFFORTS } from '../../../src/fit/effort.js';
import { fitFilters } from '../../../src/fit/fitFilters.js';
import { bridgeDips, bridgesOver } from '../../../src/fit/problem/bridgeDips.js';
import { seededRandom } from '../../../src/fit/seededRandom.js';
import { cookbookLevelDb } from '../independentCheck.js';
import { problemOf } from '../problems.js';

const RANGE = Float64Array.of(20, 20000);
const follow = (fromHz: number, toHz: number) => ({ fromHz, toHz, mayFollow: true });

test('only zones that may follow are bridged, from edges that lie in no other dip and at no end of the range', () => {
  expect(bridgesOver([{ fromHz: 100, toHz: 200 }], RANGE)).toEqual([]);
  expect(bridgesOver([follow(100, 200)], RANGE)).toEqual([{ fromHz: 100, toHz: 200, edgesHz: [100, 200] }]);
  expect(bridgesOver([{ fromHz: 50, toHz: 100 }, follow(100, 200)], RANGE)).toEqual([
    { fromHz: 100, toHz: 200, edgesHz: [200] },
  ]);
  expect(bridgesOver([follow(15000, 20000)], RANGE)).toEqual([
    { fromHz: 15000, toHz: 20000, edgesHz: [15000] },
  ]);
  expect(bridgesOver([follow(10, 21000)], RANGE)).toEqual([]);
});

test('a bridge is straight over log frequency, level from a lone edge, and leaves the rest as it is', () => {
  const hz = Float64Array.of(100, 200, 400, 800, 1600);
  const db = Float64Array.of(0, 2, -9, 6, 1);
  const [both, one] = [[200, 800], [800]].map((edgesHz) => [{ fromHz: 200, toHz: 800, edgesHz }]);
  expect(Array.from(bridgeDips(hz, db, both!))).toEqual([0, 2, 4, 6, 1]);
  expect(Array.from(bridgeDips(hz, db, one!))).toEqual([0, 6, 6, 6, 1]);
  expect(Array.from(db)).toEqual([0, 2, -9, 6, 1]);
});

test('the EQ crosses a dip that is to be left as if it were not there, and fills the same dip where it is not', () => {
  const octaves = (hz: number) => Math.log2(hz / 2000);
  // A dip of 8 dB in the middle of a broad rise of 5 dB.
  const rise = (hz: number) => 5 * Math.exp(-(octaves(hz) ** 2) / 4);
  const deviationDb = (hz: Float64Array) => hz.map((f) => rise(f) - 8 * Math.exp(-((6 * octaves(f)) ** 2)));
  const zone = { fromHz: 1350, toHz: 2960 };
  const eqAt = (zones: Parameters<typeof problemOf>[0]['zones'] & object) => {
    const { filters } = fitFilters(problemOf({ deviationDb, zones, levelDb: 0, limits: { maxBands: 5 } }), {
      random: seededRandom(3),
      effort: EFFORTS.normal,
    });
    return (hz: number) => cookbookLevelDb(filters, 48000, hz);
  };
  const left = eqAt([follow(zone.fromHz, zone.toHz)]);
  for (const hz of [1400, 1700, 2000, 2400, 2900]) expect(Math.abs(left(hz) + rise(hz))).toBeLessThan(0.6);
  expect(eqAt([])(2000)).toBeGreaterThan(1.5);
});
