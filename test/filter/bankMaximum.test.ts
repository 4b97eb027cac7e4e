import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bankMaximum } from '../../src/filter/bankMaximum.js';
import { bankMean } from '../../src/filter/bankMean.js';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import type { Filter } from '../../src/filter/filter.js';
import { inputGainDb } from '../../src/filter/inputGainDb.js';
import { axis, filter, logarithmic, SEED, sampleRate } from './filterArbitrary.js';

const bank = (maxQ: number): fc.Arbitrary<Filter[]> =>
  fc.array(filter({ maxQ }), { minLength: 1, maxLength: 8 });

/**
 * A scan that knows nothing of how the maximum is found: 400 points an octave, then 200 points between the
 * neighbours of the best thirty of them. Its own miss is far below 1e-3 dB for the Q allowed here.
 */
function scan(filters: readonly Filter[], fs: number, fromHz = 0, toHz = fs / 2): number {
  const coarseHz = [fromHz, toHz, ...axis(fs, 400)]
    .filter((f) => f >= fromHz && f <= toHz)
    .sort((a, b) => a - b);
  const coarseDb = bankResponseDb(filters, fs, Float64Array.from(coarseHz));
  const best = [...coarseDb.keys()].sort((a, b) => coarseDb[b]! - coarseDb[a]!).slice(0, 30);
  let max = Number.NEGATIVE_INFINITY;
  for (const i of best) {
    const low = coarseHz[Math.max(i - 1, 0)]!;
    const high = coarseHz[Math.min(i + 1, coarseHz.length - 1)]!;
    const fine = Float64Array.from({ length: 200 }, (_, j) => low + ((high - low) * j) / 199);
    for (const level of bankResponseDb(filters, fs, fine)) max = Math.max(max, level);
  }
  return max;
}

describe('bankMaximum', () => {
  it('lies within 1e-3 dB of a brute-force scan, above and below, and its frequency has that level', () => {
    fc.assert(
      fc.property(bank(30), sampleRate, (filters, fs) => {
        const { maxDb, atHz } = bankMaximum(filters, fs);
        const scanned = scan(filters, fs);
        expect(maxDb).toBeGreaterThanOrEqual(scanned - 1e-3);
        expect(maxDb).toBeLessThanOrEqual(scanned + 1e-3);
        expect(bankResponseDb(filters, fs, Float64Array.of(atHz))[0]).toBeCloseTo(maxDb, 9);
      }),
      { ...SEED, numRuns: 60 },
    );
  });

  it('keeps to a range that is given', () => {
    fc.assert(
      fc.property(
        bank(10),
        sampleRate,
        logarithmic(5, 5000),
        logarithmic(1.2, 4),
        (filters, fs, fromHz, ratio) => {
          const { maxDb, atHz } = bankMaximum(filters, fs, fromHz, fromHz * ratio);
          expect(Math.abs(maxDb - scan(filters, fs, fromHz, fromHz * ratio))).toBeLessThan(1e-3);
          expect(atHz).toBeGreaterThanOrEqual(fromHz);
          expect(atHz).toBeLessThanOrEqual(fromHz * ratio);
        },
      ),
      { ...SEED, numRuns: 40 },
    );
  });

  it('does not miss a needle: any Q, any place, alone or on top of a broad cut', () => {
    fc.assert(
      fc.property(logarithmic(2, 20_000), logarithmic(50, 5000), sampleRate, (frequencyHz, q, fs) => {
        const needle: Filter = { type: 'peaking', frequencyHz, gainDb: 5, q };
        expect(bankMaximum([needle], fs).maxDb).toBeCloseTo(5, 9);
        expect(bankMaximum([needle], fs).atHz / frequencyHz).toBeCloseTo(1, 6);
        const cut: Filter = { type: 'peaking', frequencyHz: 60, gainDb: -2, q: 0.5 };
        const inCut = bankMaximum([cut, needle], fs).maxDb;
        const below = bankResponseDb([cut], fs, Float64Array.of(frequencyHz))[0]!;
        // A needle on a slope leans a little; it never loses height by it.
        expect(inCut).toBeGreaterThanOrEqual(5 + below - 1e-9);
        expect(inCut).toBeLessThan(5 + below + 0.02);
      }),
      SEED,
    );
  });

  it('finds the rest of a needle that a wider cut at the same place splits in two', () => {
    const filters: Filter[] = [
      { type: 'peaking', frequencyHz: 23, gainDb: 12, q: 40 },
      { type: 'peaking', frequencyHz: 23, gainDb: -12, q: 400 },
    ];
    const { maxDb, atHz } = bankMaximum(filters, 192_000);
    const fine = Float64Array.from({ length: 400_001 }, (_, i) => 22 + (2 * i) / 400_000);
    const scanned = Math.max(
      ...Array.from({ length: 401 }, (_, k) =>
        Math.max(...bankResponseDb(filters, 192_000, fine.subarray(k * 1000, k * 1000 + 1000))),
      ),
    );
    expect(Math.abs(maxDb - scanned)).toBeLessThan(1e-3);
    expect(maxDb).toBeGreaterThan(7);
    expect(Math.abs(atHz - 23)).toBeGreaterThan(0.02);
  });

  it('finds the overshoot of a shelf with high Q beside its plateau', () => {
    const shelf: Filter = { type: 'lowShelf', frequencyHz: 100, gainDb: 6, q: 3 };
    expect(bankMaximum([shelf], 48_000).maxDb).toBeGreaterThan(6 + 3);
    expect(Math.abs(bankMaximum([shelf], 48_000).maxDb - scan([shelf], 48_000))).toBeLessThan(1e-6);
  });

  it('finds a maximum at 0 Hz and one at half the sample rate', () => {
    const low: Filter = { type: 'lowShelf', frequencyHz: 100, gainDb: 6, q: 0.6 };
    const high: Filter = { type: 'highShelf', frequencyHz: 15_000, gainDb: 6, q: 0.6 };
    expect(bankMaximum([low], 48_000).atHz).toBe(0);
    expect(bankMaximum([low], 48_000).maxDb).toBeCloseTo(6, 10);
    expect(bankMaximum([high], 48_000).atHz).toBe(24_000);
    expect(bankMaximum([high], 48_000).maxDb).toBeCloseTo(6, 10);
  });

  it('is 0 dB at 0 Hz for an empty bank, and counts filters beyond the axis as the gain they are', () => {
    expect(bankMaximum([], 48_000)).toEqual({ maxDb: 0, atHz: 0 });
    const whole: Filter = { type: 'lowShelf', frequencyHz: 30_000, gainDb: 3, q: 1 };
    const peak: Filter = { type: 'peaking', frequencyHz: 500, gainDb: 2, q: 1 };
    expect(bankMaximum([whole, peak], 48_000).maxDb).toBeCloseTo(5, 10);
  });

  it('refuses a range outside the axis or turned round', () => {
    expect(() => bankMaximum([], 48_000, 100, 50)).toThrow(/lower end first; received 100 to 50/);
    expect(() => bankMaximum([], 48_000, -1)).toThrow(RangeError);
    expect(() => bankMaximum([], 48_000, 0, 24_001)).toThrow(RangeError);
  });
});

describe('numbers that no filter can have', () => {
  it('are refused by name rather than searched', () => {
    const sound: Filter = { type: 'peaking', frequencyHz: 100, gainDb: 3, q: 1 };
    const refused: [Partial<Filter>, RegExp][] = [
      [{ q: Number.NaN }, /filters\[1\]\.q must be positive and finite; received NaN/],
      [{ q: 0 }, /filters\[1\]\.q/],
      [{ q: Number.POSITIVE_INFINITY }, /filters\[1\]\.q/],
      [{ gainDb: Number.NaN }, /filters\[1\]\.gainDb/],
      [{ frequencyHz: Number.NaN }, /filters\[1\]\.frequencyHz/],
    ];
    for (const [wrong, message] of refused) {
      const filters = [sound, { ...sound, ...wrong }];
      expect(() => bankMaximum(filters, 48_000)).toThrow(message);
      expect(() => inputGainDb(filters, 48_000)).toThrow(message);
      expect(() => bankMean(filters, 48_000, 20, 20_000)).toThrow(message);
    }
  });
});

describe('inputGainDb', () => {
  it('keeps the sum at or below 0 dB and wastes less than 0.01 dB of it', () => {
    fc.assert(
      fc.property(bank(10), sampleRate, (filters, fs) => {
        const gain = inputGainDb(filters, fs);
        const scanned = scan(filters, fs);
        expect(gain + scanned).toBeLessThanOrEqual(1e-8);
        expect(gain).toBeLessThanOrEqual(0);
        if (scanned > 0.001) expect(gain + scanned).toBeGreaterThan(-0.0101);
        expect(Math.abs(gain * 100 - Math.round(gain * 100))).toBeLessThan(1e-9);
      }),
      { ...SEED, numRuns: 30 },
    );
  });

  it('is the gain itself where that is a whole number of hundredths, and 0 for cuts and for no filters', () => {
    const peak = (gainDb: number): Filter => ({ type: 'peaking', frequencyHz: 1000, gainDb, q: 2 });
    for (const gainDb of [0.01, 0.29, 1.1, 3, 6, 11.37])
      expect(inputGainDb([peak(gainDb)], 48_000)).toBe(-gainDb);
    expect(inputGainDb([peak(3.001)], 48_000)).toBe(-3.01);
    expect(Object.is(inputGainDb([peak(-4)], 48_000), 0)).toBe(true);
    expect(Object.is(inputGainDb([], 48_000), 0)).toBe(true);
  });
});

describe('bankMean', () => {
  it('is the integral over octaves, as a fine trapezium has it', () => {
    fc.assert(
      fc.property(
        bank(20),
        sampleRate,
        logarithmic(10, 300),
        logarithmic(2, 60),
        (filters, fs, fromHz, ratio) => {
          const n = 20_001;
          const frequencyHz = Float64Array.from({ length: n }, (_, i) => fromHz * ratio ** (i / (n - 1)));
          const levelDb = bankResponseDb(filters, fs, frequencyHz);
          const sum = levelDb.reduce(
            (total, level, i) => total + (i === 0 || i === n - 1 ? level / 2 : level),
            0,
          );
          expect(bankMean(filters, fs, frequencyHz[0]!, frequencyHz[n - 1]!)).toBeCloseTo(sum / (n - 1), 5);
        },
      ),
      { ...SEED, numRuns: 30 },
    );
  });

  it('is the half gain of a shelf whose midpoint is the middle octave, where the warping is small', () => {
    // A shelf is odd about (midpoint, gain/2) on the log axis; at 100 Hz and 192 kHz warping moves this by < 1e-5 dB.
    const shelf: Filter = { type: 'highShelf', frequencyHz: 100, gainDb: 5, q: 0.9 };
    expect(bankMean([shelf], 192_000, 12.5, 800)).toBeCloseTo(2.5, 3);
  });

  it('is 0 without filters and refuses a range that reaches 0 Hz', () => {
    expect(bankMean([], 48_000, 20, 20_000)).toBe(0);
    expect(() => bankMean([], 48_000, 0, 20_000)).toThrow(RangeError);
    expect(() => bankMean([], 48_000, 200, 100)).toThrow(/received 200 to 100/);
  });
});
