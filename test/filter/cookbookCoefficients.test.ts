import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { biquadResponse } from '../../src/filter/biquadResponse.js';
import { cookbookCoefficients } from '../../src/filter/cookbookCoefficients.js';
import type { Filter, FilterType } from '../../src/filter/filter.js';
import { filterResponseDb } from '../../src/filter/filterResponseDb.js';
import { isStable } from '../../src/filter/isStable.js';
import { poleRadius } from '../../src/filter/poleRadius.js';
import { axis, filter, SEED, sampleRate } from './filterArbitrary.js';

const TYPES: readonly FilterType[] = ['peaking', 'lowShelf', 'highShelf'];

describe('cookbookCoefficients', () => {
  it('is the identity, feedforward equal to feedback, at a gain of 0 dB', () => {
    fc.assert(
      fc.property(filter(), sampleRate, (f, fs) => {
        const { b0, b1, b2, a1, a2 } = cookbookCoefficients({ ...f, gainDb: 0 }, fs);
        expect(b0).toBe(1);
        expect(b1).toBe(a1);
        expect(b2).toBe(a2);
      }),
      SEED,
    );
  });

  it('makes of a cut the boost with its two polynomials exchanged', () => {
    fc.assert(
      fc.property(filter(), sampleRate, (f, fs) => {
        const boost = cookbookCoefficients(f, fs);
        const cut = cookbookCoefficients({ ...f, gainDb: -f.gainDb }, fs);
        // A few roundings of numbers of size up to 2, divided by b0.
        const close = (x: number, y: number): void =>
          expect(Math.abs(x - y)).toBeLessThan(1e-14 * (1 + Math.abs(y)) * (1 + 1 / boost.b0));
        close(cut.b0, 1 / boost.b0);
        close(cut.b1, boost.a1 / boost.b0);
        close(cut.b2, boost.a2 / boost.b0);
        close(cut.a1, boost.b1 / boost.b0);
        close(cut.a2, boost.b2 / boost.b0);
      }),
      SEED,
    );
  });

  it('keeps every pole inside the unit circle, and every zero, so that the filter is minimum phase', () => {
    fc.assert(
      fc.property(filter({ maxQ: 200 }), sampleRate, (f, fs) => {
        const { b0, b1, b2, a1, a2 } = cookbookCoefficients(f, fs);
        const poles = { b0, b1, b2, a1, a2 };
        const zeros = { b0: 1, b1: 0, b2: 0, a1: b1 / b0, a2: b2 / b0 };
        for (const roots of [poles, zeros]) {
          expect(isStable(roots)).toBe(true);
          expect(poleRadius(roots)).toBeLessThan(1);
        }
      }),
      { ...SEED, numRuns: 500 },
    );
  });

  it('has at both ends of the axis the limit that the response approaches there', () => {
    const fs = 48_000;
    const inside = Float64Array.of(100, 1000, 10_000);
    for (const type of TYPES) {
      for (const [atEndHz, nearEndHz] of [
        [0, 1e-6],
        [fs / 2, fs / 2 - 1e-6],
      ] as const) {
        const base: Filter = { type, frequencyHz: atEndHz, gainDb: 7, q: 0.9 };
        const limit = biquadResponse(cookbookCoefficients(base, fs), fs, inside).levelDb;
        const near = filterResponseDb({ ...base, frequencyHz: nearEndHz }, fs, inside);
        for (let i = 0; i < inside.length; i += 1) expect(limit[i]).toBeCloseTo(near[i]!, 6);
      }
    }
    const whole = (type: FilterType, frequencyHz: number): number =>
      filterResponseDb({ type, frequencyHz, gainDb: 7, q: 0.9 }, fs, inside)[1]!;
    expect(TYPES.map((type) => whole(type, 0))).toEqual([0, 0, 7]);
    expect(TYPES.map((type) => whole(type, fs / 2))).toEqual([0, 7, 0]);
    expect(TYPES.map((type) => whole(type, 30_000))).toEqual([0, 7, 0]);
  });

  it('has the closed form as its response over the whole axis', () => {
    fc.assert(
      fc.property(filter({ maxQ: 10 }), sampleRate, (f, fs) => {
        const frequencyHz = axis(fs, 2);
        const closed = filterResponseDb(f, fs, frequencyHz);
        const { levelDb } = biquadResponse(cookbookCoefficients(f, fs), fs, frequencyHz);
        // Rounded coefficients at 10 Hz and 192 kHz are off by up to 1e-16/(ω0² A^±1) of the polynomial: 1e-7 dB.
        for (let i = 0; i < levelDb.length; i += 1)
          expect(Math.abs(levelDb[i]! - closed[i]!)).toBeLessThan(2e-7);
      }),
      SEED,
    );
  });
});
