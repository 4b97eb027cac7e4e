import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { filterFromSetting, settingFromFilter } from '../../../src/filter/qConventions.js';
import { bandsFromFilters, filtersFromBands, HIGH_SHELF, PEAKING } from '../../../src/fit/bank/bands.js';
import { boundsOf, clampBands } from '../../../src/fit/bank/bounds.js';
import { qBySetting } from '../../../src/fit/bank/qBySetting.js';
import type { QSetting } from '../../../src/fit/problem/fitProblem.js';
import { filter } from '../../filter/filterArbitrary.js';
import { LIMITS } from '../problems.js';

const hertz: QSetting = { convention: 'bandwidthHz', min: 5, max: 1000, sampleRateHz: 48000 };
const slopes: QSetting = { convention: 'shelfSlope', min: 0.2, max: 3, sampleRateHz: 48000 };

describe('how far a Q goes by what is set for it', () => {
  // At low frequencies a bandwidth of so many Hz is the centre over Q.
  test('is the centre over the bandwidth', () => {
    const [least, most] = qBySetting(hertz, PEAKING, Math.log(400), 6)!;
    expect(Math.exp(least)).toBeCloseTo(0.4, 2);
    expect(Math.exp(most)).toBeCloseTo(80, 0);
  });

  // Audio EQ Cookbook (W3C Group Note): 1/Q = √((A + 1/A)(1/S − 1) + 2), without an end where that comes to nothing.
  test('ends where slopes do', () => {
    const A = 10 ** (6 / 40);
    const [least, most] = qBySetting(slopes, HIGH_SHELF, Math.log(3000), 6)!;
    expect(Math.exp(least)).toBeCloseTo(1 / Math.sqrt((A + 1 / A) * 4 + 2), 9);
    expect(Math.exp(most)).toBeCloseTo(1 / Math.sqrt((A + 1 / A) * (1 / 3 - 1) + 2), 9);
    const steep = { ...slopes, max: 100 };
    expect(qBySetting(steep, HIGH_SHELF, Math.log(3000), 18)![1]).toBeGreaterThan(Math.log(1000));
    expect(qBySetting({ ...steep, min: 50 }, HIGH_SHELF, Math.log(3000), 18)).toBeUndefined();
  });

  test('is kept by every band brought within its bounds, whatever its frequency and gain', () => {
    for (const qSetting of [hertz, slopes]) {
      const { convention, min, max } = qSetting;
      const bounds = boundsOf({ ...LIMITS, qSetting });
      fc.assert(
        fc.property(filter({ maxQ: 40 }), (f) => {
          const [held] = filtersFromBands(clampBands(bandsFromFilters([f]), bounds));
          const setting = settingFromFilter(held!, convention, 48000)!;
          const isSettable = setting >= min * (1 - 1e-6) && setting <= max * (1 + 1e-6);
          // Or no Q within the limits can be set there.
          const nearest = [min, max].map((value) => filterFromSetting(held!, value, convention, 48000)?.q);
          const isHopeless =
            nearest.every((q) => q !== undefined && q >= LIMITS.maxQ) ||
            nearest.every((q) => q !== undefined && q <= LIMITS.minQ);
          expect(isSettable || isHopeless).toBe(true);
        }),
        { seed: 5, numRuns: 300 },
      );
    }
  });
});
