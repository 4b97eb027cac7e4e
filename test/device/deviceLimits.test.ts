import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { deviceLimits } from '../../src/device/deviceLimits.js';
import type { DeviceProfile } from '../../src/device/profile/deviceProfile.js';
import { allValues } from '../../src/device/profile/deviceValues.js';
import { filterFromSetting } from '../../src/filter/qConventions.js';
import { boundsOf } from '../../src/fit/bank/bounds.js';
import type { FitLimits } from '../../src/fit/problem/fitProblem.js';
import { InputError } from '../../src/inputError.js';
import { uniform } from '../filter/filterArbitrary.js';
import { LIMITS } from '../fit/problems.js';
import { conventionDevices } from './conventionDevices.js';
import { coarse } from './deviceCases.js';

/** So wide that a device's own ends show. */
const WIDE: FitLimits = { ...LIMITS, minQ: 1e-6, maxQ: 1e6, maxShelfQ: 1e6 };
const device = (more: Partial<DeviceProfile>): DeviceProfile => ({ ...coarse, ...more });
const bandwidthHz = device({ qConvention: 'bandwidthHz', q: { min: 20, max: 500, step: 10 } });

describe('the Q that may be fitted for a device', () => {
  // Audio EQ Cookbook (W3C Group Note): 1/Q = 2 sinh(ln 2/2 · BW) for peaks; a device that gives its peaks in octaves
  // is taken to give its shelves as Q.
  test('is that of peaks for peaks and that of shelves for shelves', () => {
    const octaves = device({ qConvention: 'bandwidthOctavesAnalog', q: { min: 0.1, max: 0.9, step: 0.05 } });
    const { minQ, maxQ, shelfQ } = deviceLimits(WIDE, octaves, 48000);
    expect(minQ).toBeCloseTo(1 / (2 * Math.sinh((Math.LN2 / 2) * 0.9)), 9);
    expect(maxQ).toBeCloseTo(1 / (2 * Math.sinh((Math.LN2 / 2) * 0.1)), 9);
    expect(shelfQ).toEqual({ min: 0.1, max: 0.9 });
    const { peakingLower, shelfUpper } = boundsOf(deviceLimits(LIMITS, octaves, 48000));
    expect(Math.exp(peakingLower[2])).toBeGreaterThan(1.5);
    expect(Math.exp(shelfUpper[2])).toBeCloseTo(0.9, 9);
  });

  // Audio EQ Cookbook: 1/Q = √((A + 1/A)(1/S − 1) + 2); of S below 1 the greatest gain makes the flattest shelf.
  test('of slopes is that of the slackest and of the steepest shelf at any gain', () => {
    const slopes = device({ qConvention: 'shelfSlope', q: { min: 0.2, max: 1.1, step: 0.1 } });
    const qOf = (slope: number, gainDb: number) => {
      const A = 10 ** (gainDb / 40);
      return 1 / Math.sqrt((A + 1 / A) * (1 / slope - 1) + 2);
    };
    const { minQ, maxQ, shelfQ } = deviceLimits(WIDE, slopes, 48000);
    expect([minQ, maxQ]).toEqual([0.2, 1.1]);
    expect(shelfQ!.min).toBeCloseTo(qOf(0.2, -12), 9);
    expect(shelfQ!.max).toBeCloseTo(qOf(1.1, -12), 9);
  });

  test('holds every filter that the device has, and is one range where the number has one meaning', () => {
    for (const each of conventionDevices(4)) {
      const limits = deviceLimits(WIDE, each, 48000);
      const { peakingLower, peakingUpper, shelfLower, shelfUpper } = boundsOf(limits);
      const settings = allValues(each.q);
      fc.assert(
        fc.property(
          uniform(Math.log(20), Math.log(20000)),
          fc.constantFrom(...allValues({ min: -12, max: 6, step: 0.5 })),
          fc.constantFrom(...(settings.length > 0 ? settings : [each.q.min, each.q.max])),
          fc.constantFrom('peaking', 'lowShelf', 'highShelf'),
          (lnF, gainDb, setting, type) => {
            fc.pre(gainDb !== 0);
            const shape = { type, frequencyHz: Math.exp(lnF), gainDb } as const;
            const filter = filterFromSetting(shape, setting, each.qConvention, 48000);
            fc.pre(filter !== undefined);
            const [lower, upper] =
              type === 'peaking' ? [peakingLower, peakingUpper] : [shelfLower, shelfUpper];
            // The fit's bounds are drawn in to five figures.
            expect(Math.log(filter!.q)).toBeGreaterThanOrEqual(lower[2] - 1e-4);
            expect(Math.log(filter!.q)).toBeLessThanOrEqual(upper[2] + 1e-4);
          },
        ),
        { seed: 3, numRuns: 200 },
      );
      if (each.qConvention === 'cookbook') expect(limits.shelfQ).toBeUndefined();
    }
  });

  test('takes a type out where none of its Qs is allowed', () => {
    expect(deviceLimits({ ...LIMITS, maxQ: 15 }, bandwidthHz, 48000).types).toEqual(['peaking']);
    const wide = { min: 0.1, max: 0.9, step: 0.05 };
    const octaves = device({ qConvention: 'bandwidthOctavesAnalog', q: wide });
    const { types, slots, maxBands } = deviceLimits({ ...LIMITS, maxQ: 1.2 }, octaves, 48000);
    expect(types).toEqual(['lowShelf', 'highShelf']);
    expect(slots).toEqual([['lowShelf'], ['highShelf']]);
    expect(maxBands).toBe(2);
  });
});

describe('a device is refused', () => {
  const refusal = (limits: Partial<FitLimits>, of: DeviceProfile) => {
    const made = () => deviceLimits({ ...LIMITS, ...limits }, of, 48000);
    expect(made).toThrow(InputError);
    return expect(made);
  };

  test('where neither peaks nor shelves have an allowed Q', () => {
    const wide = device({ qConvention: 'bandwidthOctavesAnalog', q: { min: 3, max: 5, step: 0.5 } });
    refusal({ minQ: 0.5, maxQ: 2 }, wide).toThrow(
      'device "coarse": its Q from 0.182 to 0.404 (cookbook) for peaks and from 3.00 to 5.00 for shelves has nothing in ' +
        'common with the 0.5 to 2 allowed (--q-min, --q-max)',
    );
  });

  test('where what is allowed lies between two of its Qs', () => {
    const coarseQ = device({ q: { min: 0.7, max: 2.8, values: [0.7, 1.4, 2.8] } });
    refusal({ minQ: 0.8, maxQ: 1 }, coarseQ).toThrow(
      'device "coarse": of its Qs none is from 0.8 to 1 as allowed (--q-min, --q-max); next to them it has 0.700 and 1.40',
    );
    expect(deviceLimits({ ...LIMITS, minQ: 1.4, maxQ: 1.4 }, coarseQ, 48000)).toMatchObject({
      minQ: 1.4,
      maxQ: 1.4,
    });
  });

  test('where what is allowed lies between two of its gains', () => {
    const threes = device({ gainDb: { min: -12, max: 12, step: 3 } });
    refusal({ maxBoostDb: 2, maxCutDb: 2.9 }, threes).toThrow(/no gain but 0 dB from -2\.9 to 2 dB/);
    refusal({}, device({ gainDb: { min: -2, max: 2, step: 3 } })).toThrow(/no gain but 0 dB from -2 to 2 dB/);
    expect(deviceLimits({ ...LIMITS, maxBoostDb: 2, maxCutDb: 3 }, threes, 48000).maxCutDb).toBe(3);
  });

  test('where its convention speaks of none of the gains', () => {
    const peaks = [{ types: ['peaking'], count: 4 }] as const;
    const weak = { qConvention: 'threeDbQ', bands: peaks, gainDb: { min: -3, max: 3, step: 0.5 } } as const;
    refusal({}, device(weak)).toThrow(/"threeDbQ" at gains from -3 to 3 dB; expected another range/);
  });

  test('where no shelf is as flat as asked for, unless its shelves are told otherwise than its peaks', () => {
    const shelves = { maxShelfQ: 0.7 };
    refusal(shelves, device({ q: { min: 1, max: 8, step: 0.1 } })).toThrow(
      /least Q of 1\.00 .*--shelf-q-max/,
    );
    const { types } = deviceLimits({ ...LIMITS, maxQ: 30, ...shelves }, bandwidthHz, 48000);
    expect(types).toEqual(['peaking']);
  });
});
