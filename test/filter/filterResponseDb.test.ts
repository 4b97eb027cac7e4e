import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import type { Filter } from '../../src/filter/filter.js';
import { addFilterResponseDb, filterResponseDb } from '../../src/filter/filterResponseDb.js';
import { responseGrid } from '../../src/filter/responseGrid.js';
import { axis, filter, SEED, sampleRate } from './filterArbitrary.js';

const at = (f: Filter, fs: number, hz: number): number => filterResponseDb(f, fs, Float64Array.of(hz))[0]!;

describe('filterResponseDb', () => {
  it('is exactly gainDb at the centre of a peaking filter and 0 dB at both ends', () => {
    fc.assert(
      fc.property(filter({ maxQ: 100, maxGainDb: 40 }), sampleRate, (f, fs) => {
        const peaking: Filter = { ...f, type: 'peaking' };
        expect(Math.abs(at(peaking, fs, f.frequencyHz) - f.gainDb)).toBeLessThan(1e-12);
        expect(at(peaking, fs, 0)).toBe(0);
        expect(at(peaking, fs, fs / 2)).toBe(0);
      }),
      SEED,
    );
  });

  it('is half the gain in dB at the midpoint of a shelf, whatever its Q, and all or nothing at the ends', () => {
    fc.assert(
      fc.property(filter({ maxQ: 100, maxGainDb: 40 }), sampleRate, (f, fs) => {
        for (const type of ['lowShelf', 'highShelf'] as const) {
          const shelf: Filter = { ...f, type };
          const lowEnd = type === 'lowShelf' ? f.gainDb : 0;
          expect(Math.abs(at(shelf, fs, f.frequencyHz) - f.gainDb / 2)).toBeLessThan(1e-12);
          expect(Math.abs(at(shelf, fs, 0) - lowEnd)).toBeLessThan(1e-12);
          expect(Math.abs(at(shelf, fs, fs / 2) - (f.gainDb - lowEnd))).toBeLessThan(1e-12);
        }
      }),
      SEED,
    );
  });

  it('is the identity at every frequency when the gain is 0 dB', () => {
    fc.assert(
      fc.property(filter({ maxQ: 100 }), sampleRate, (f, fs) => {
        for (const level of filterResponseDb({ ...f, gainDb: 0 }, fs, axis(fs, 3))) expect(level).toBe(0);
      }),
      SEED,
    );
  });

  it('cancels to nothing when a cut follows the same boost', () => {
    fc.assert(
      fc.property(filter({ maxQ: 100 }), sampleRate, (f, fs) => {
        const bank = [f, { ...f, gainDb: -f.gainDb }];
        for (const level of bankResponseDb(bank, fs, axis(fs, 3)))
          expect(Math.abs(level)).toBeLessThan(1e-12);
      }),
      SEED,
    );
  });

  it('makes of a low and a high shelf with the same numbers plain gain', () => {
    fc.assert(
      fc.property(filter(), sampleRate, (f, fs) => {
        const bank: Filter[] = [
          { ...f, type: 'lowShelf' },
          { ...f, type: 'highShelf' },
        ];
        for (const level of bankResponseDb(bank, fs, axis(fs, 3))) {
          expect(Math.abs(level - f.gainDb)).toBeLessThan(1e-12);
        }
      }),
      SEED,
    );
  });

  it('never leaves the span from 0 to gainDb for a peaking filter', () => {
    fc.assert(
      fc.property(filter({ maxQ: 100 }), sampleRate, (f, fs) => {
        const share = filterResponseDb({ ...f, type: 'peaking' }, fs, axis(fs, 12)).map(
          (level) => level * Math.sign(f.gainDb),
        );
        expect(Math.min(...share)).toBeGreaterThanOrEqual(0);
        expect(Math.max(...share)).toBeLessThanOrEqual(Math.abs(f.gainDb) + 1e-12);
      }),
      SEED,
    );
  });

  it('is finite everywhere, for centres and frequencies at the very ends of the axis', () => {
    const fs = 48_000;
    const frequencyHz = Float64Array.of(0, 1e-9, 1, 23_999.999999, 24_000);
    for (const type of ['peaking', 'lowShelf', 'highShelf'] as const) {
      for (const centreHz of [0, 1e-9, 1, 23_999.999999, 24_000]) {
        for (const q of [0.01, 1, 1000]) {
          for (const level of filterResponseDb(
            { type, frequencyHz: centreHz, gainDb: -30, q },
            fs,
            frequencyHz,
          )) {
            expect(Number.isFinite(level)).toBe(true);
            expect(level).toBeLessThan(q > 1 ? 35 : 1e-9);
          }
        }
      }
    }
  });

  it('keeps small gains and far skirts to their last digits', () => {
    // Two decades below the centre: 10·log10(1 + x) with x = Ω²(A² − A⁻²)/Q² to first order in Ω², and
    // A² − A⁻² = gain·ln 10/10 to first order in the gain: gain·Ω²/Q² dB.
    const f: Filter = { type: 'peaking', frequencyHz: 1000, gainDb: 1e-6, q: 4 };
    const omega = Math.tan((Math.PI * 0.01) / 48_000) / Math.tan((Math.PI * 1000) / 48_000);
    const expected = (omega ** 2 / 16) * 1e-6;
    expect(at(f, 48_000, 0.01) / expected).toBeCloseTo(1, 9);
  });
});

describe('addFilterResponseDb', () => {
  it('adds to what is in the buffer', () => {
    const fs = 44_100;
    const frequencyHz = Float64Array.of(30, 300, 3000);
    const f: Filter = { type: 'lowShelf', frequencyHz: 200, gainDb: 4, q: 0.8 };
    const levelDb = Float64Array.of(1, 2, 3);
    addFilterResponseDb(f, responseGrid(fs, frequencyHz), levelDb);
    const alone = filterResponseDb(f, fs, frequencyHz);
    expect([...levelDb]).toEqual([1 + alone[0]!, 2 + alone[1]!, 3 + alone[2]!]);
  });
});

describe('bankResponseDb', () => {
  it('is the sum of its filters in dB, and 0 dB with none', () => {
    const fs = 96_000;
    const frequencyHz = axis(fs, 1);
    const one: Filter = { type: 'peaking', frequencyHz: 90, gainDb: -6, q: 3 };
    const two: Filter = { type: 'highShelf', frequencyHz: 6000, gainDb: 2.5, q: 0.6 };
    const sum = bankResponseDb([one, two], fs, frequencyHz);
    const first = filterResponseDb(one, fs, frequencyHz);
    const second = filterResponseDb(two, fs, frequencyHz);
    sum.forEach((level, i) => {
      expect(level).toBeCloseTo(first[i]! + second[i]!, 12);
    });
    expect([...bankResponseDb([], fs, Float64Array.of(0, 48_000))]).toEqual([0, 0]);
  });
});
