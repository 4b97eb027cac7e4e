import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Filter } from '../../src/filter/filter.js';
import { filterResponseDb } from '../../src/filter/filterResponseDb.js';
import {
  conventionFor,
  filterFromSetting,
  type QConventionName,
  qConventionNames,
  qConventions,
  settingFromFilter,
} from '../../src/filter/qConventions.js';
import { qFromShelfSlope, shelfSlopeFromQ, steepestShelfSlope } from '../../src/filter/shelfSlope.js';
import { filter, SEED, sampleRate, uniform } from './filterArbitrary.js';

const HALF_POWER_DB = 10 * Math.log10(2);

/** Frequencies on both sides of the centre where a peaking filter has a given level, by bisection. */
function edgesHz(f: Filter, sampleRateHz: number, levelDb: number): [number, number] {
  const at = (hz: number): number => filterResponseDb(f, sampleRateHz, Float64Array.of(hz))[0]!;
  const find = (inside: number, outside: number): number => {
    let [a, b] = [inside, outside];
    for (let i = 0; i < 100; i += 1) {
      const middle = (a + b) / 2;
      if (Math.abs(at(middle)) > Math.abs(levelDb)) a = middle;
      else b = middle;
    }
    return a;
  };
  return [find(f.frequencyHz, 0), find(f.frequencyHz, sampleRateHz / 2)];
}

const boostOrCut = fc.tuple(filter({ maxQ: 20 }), uniform(3.5, 18), fc.boolean(), uniform(20, 15_000)).map(
  ([f, size, cut, frequencyHz]): Filter => ({
    ...f,
    type: 'peaking',
    frequencyHz,
    gainDb: cut ? -size : size,
    q: Math.max(f.q, 0.5),
  }),
);

describe.each(qConventionNames)('the convention %s', (name) => {
  it('gives every filter that it has a value for back to 1e-9', () => {
    let counted = 0;
    fc.assert(
      fc.property(filter({ maxQ: 50 }), sampleRate, (f, fs) => {
        const setting = settingFromFilter(f, name, fs);
        if (setting === undefined) {
          expect(Math.abs(f.gainDb)).toBeLessThanOrEqual(HALF_POWER_DB + 1e-9);
          return;
        }
        counted += 1;
        const back = filterFromSetting(f, setting, name, fs);
        expect(back?.q).toBeDefined();
        expect(Math.abs(back!.q / f.q - 1)).toBeLessThan(1e-9);
        expect(back).toEqual({ ...f, q: back!.q });
      }),
      { ...SEED, numRuns: 300 },
    );
    expect(counted).toBeGreaterThan(150);
  });

  it('gives every value in its range back to 1e-9', () => {
    let counted = 0;
    fc.assert(
      fc.property(filter(), uniform(-4, 4), uniform(0.01, 0.99), sampleRate, (f, exponent, share, fs) => {
        const range = conventionFor(name, f.type).range(f, fs);
        if (range === undefined) return;
        // Up to a ten-thousandth of octaves and up to ten thousand of Q, but within a hundredth of finite ends.
        const value = Number.isFinite(range.max)
          ? range.min + (range.max - range.min) * share
          : range.min + (name.startsWith('bandwidth') ? share * 8 : 10 ** exponent);
        const made = filterFromSetting(f, value, name, fs);
        expect(made).toBeDefined();
        counted += 1;
        expect(Math.abs(settingFromFilter(made!, name, fs)! / value - 1)).toBeLessThan(1e-9);
      }),
      { ...SEED, numRuns: 300 },
    );
    expect(counted).toBeGreaterThan(150);
  });

  it('is named in words, with a source', () => {
    expect(qConventions[name].name).toBe(name);
    expect(qConventions[name].words.length).toBeGreaterThan(40);
    expect(qConventions[name].source).toMatch(/Note|Orfanidis|Regalia|DAFX/);
  });
});

describe('conventions held against the response itself', () => {
  it.each([
    ['bandwidthHz', (gain: number) => gain / 2, (low: number, high: number) => high - low],
    [
      'threeDbQ',
      (gain: number) => gain - Math.sign(gain) * HALF_POWER_DB,
      (low: number, high: number, centre: number) => centre / (high - low),
    ],
    [
      'threeDbFromFlatQ',
      (gain: number) => Math.sign(gain) * HALF_POWER_DB,
      (low: number, high: number, centre: number) => centre / (high - low),
    ],
  ] as const)('%s is what its edges say, boost or cut, warped or not', (name, edgeDb, value) => {
    fc.assert(
      fc.property(boostOrCut, sampleRate, (f, fs) => {
        const [low, high] = edgesHz(f, fs, edgeDb(f.gainDb));
        const measured = value(low, high, f.frequencyHz);
        expect(Math.abs(settingFromFilter(f, name, fs)! / measured - 1)).toBeLessThan(1e-6);
      }),
      { ...SEED, numRuns: 60 },
    );
  });

  it('bandwidthOctavesAnalog and cookbook Q are what the half-gain edges say at low frequencies', () => {
    const f: Filter = { type: 'peaking', frequencyHz: 40, gainDb: -9, q: 1.7 };
    const [low, high] = edgesHz(f, 192_000, -4.5);
    expect(settingFromFilter(f, 'bandwidthOctavesAnalog', 192_000)).toBeCloseTo(Math.log2(high / low), 5);
    expect(settingFromFilter(f, 'cookbook', 192_000)).toBeCloseTo(40 / (high - low), 5);
  });

  it('bandwidthOctaves allows for the warping: nearer to the real edges than the analogue form', () => {
    const f: Filter = { type: 'peaking', frequencyHz: 12_000, gainDb: 6, q: 4 };
    const [low, high] = edgesHz(f, 48_000, 3);
    const real = Math.log2(high / low);
    const digital = settingFromFilter(f, 'bandwidthOctaves', 48_000)!;
    const analog = settingFromFilter(f, 'bandwidthOctavesAnalog', 48_000)!;
    expect(Math.abs(digital / real - 1)).toBeLessThan(0.02);
    expect(Math.abs(analog / real - 1)).toBeGreaterThan(0.3);
  });

  it('poleQ keeps the poles of a device fixed while the gain moves, poleQMirrored makes mirror images', () => {
    const shape = { type: 'peaking', frequencyHz: 250 } as const;
    const at = (gainDb: number, name: QConventionName): Filter =>
      filterFromSetting({ ...shape, gainDb }, 2, name, 48_000)!;
    // Cookbook poles have Q = A·Q.
    for (const gainDb of [-12, -3, 0, 3, 12]) {
      expect(at(gainDb, 'poleQ').q * 10 ** (gainDb / 40)).toBeCloseTo(2, 12);
      expect(at(gainDb, 'poleQMirrored').q).toBeCloseTo(at(-gainDb, 'poleQMirrored').q, 12);
    }
    expect(at(9, 'poleQ')).toEqual(at(9, 'poleQMirrored'));
    expect(at(-9, 'poleQ').q).toBeGreaterThan(2 * at(9, 'poleQ').q);
  });
});

describe('conventions that do not speak of a type', () => {
  it('leave it with the cookbook Q, and settings outside their range are refused', () => {
    const shelf: Filter = { type: 'lowShelf', frequencyHz: 100, gainDb: 5, q: 0.9 };
    expect(settingFromFilter(shelf, 'bandwidthOctaves', 48_000)).toBe(0.9);
    expect(filterFromSetting(shelf, 0.6, 'threeDbQ', 48_000)?.q).toBe(0.6);
    const peak: Filter = { type: 'peaking', frequencyHz: 1000, gainDb: 2, q: 3 };
    expect(settingFromFilter(peak, 'shelfSlope', 48_000)).toBe(3);
    expect(settingFromFilter(peak, 'threeDbQ', 48_000)).toBeUndefined();
    expect(filterFromSetting(peak, 3, 'threeDbQ', 48_000)).toBeUndefined();
    expect(filterFromSetting(peak, 24_000, 'bandwidthHz', 48_000)).toBeUndefined();
    expect(filterFromSetting(peak, 0, 'cookbook', 48_000)).toBeUndefined();
    expect(filterFromSetting(shelf, steepestShelfSlope(5), 'shelfSlope', 48_000)).toBeUndefined();
  });
});

describe('shelf slope', () => {
  it('is 1 for Q = 1/√2 at every gain, and 2Q² at a gain of 0 dB', () => {
    for (const gainDb of [-20, -3, 0, 0.001, 8])
      expect(shelfSlopeFromQ(Math.SQRT1_2, gainDb)).toBeCloseTo(1, 12);
    expect(qFromShelfSlope(0.5, 0)).toBeCloseTo(0.5, 12);
    expect(shelfSlopeFromQ(2, 0)).toBeCloseTo(8, 12);
  });

  it('marks at 1 where a shelf begins to overshoot', () => {
    const overshoot = (slope: number): number => {
      const f: Filter = { type: 'lowShelf', frequencyHz: 500, gainDb: 6, q: qFromShelfSlope(slope, 6) };
      const frequencyHz = Float64Array.from({ length: 2000 }, (_, i) => 5 * 1.0035 ** i);
      return Math.max(...filterResponseDb(f, 48_000, frequencyHz)) - 6;
    };
    expect(overshoot(0.95)).toBeLessThan(1e-9);
    expect(overshoot(1)).toBeLessThan(1e-9);
    expect(overshoot(1.1)).toBeGreaterThan(1e-3);
  });

  it('ends where Q would have to be infinite', () => {
    expect(steepestShelfSlope(0)).toBe(Number.POSITIVE_INFINITY);
    const most = steepestShelfSlope(12);
    expect(shelfSlopeFromQ(1e6, 12)).toBeCloseTo(most, 9);
    expect(qFromShelfSlope(most * (1 - 1e-6), 12)).toBeGreaterThan(100);
  });
});
