import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Filter } from '../../src/filter/filter.js';
import { filterResponseDb } from '../../src/filter/filterResponseDb.js';
import { responseDerivatives } from '../../src/filter/responseDerivatives.js';
import { axis, filter, SEED, sampleRate } from './filterArbitrary.js';

/**
 * Central difference with Richardson's extrapolation: error of order h⁴, so that the difference itself is good to
 * better than 1e-7 of the largest slope and the comparison tests the analytic form.
 */
function slope(levelDb: (step: number) => Float64Array, h: number): Float64Array {
  const wide = [levelDb(h), levelDb(-h)] as const;
  const narrow = [levelDb(h / 2), levelDb(-h / 2)] as const;
  return wide[0].map(
    (up, i) => (4 * (narrow[0][i]! - narrow[1][i]!)) / (3 * h) - (up - wide[1][i]!) / (6 * h),
  );
}

describe('responseDerivatives', () => {
  it('agrees with central differences to 1e-5 relative over random parameters', () => {
    fc.assert(
      fc.property(filter(), sampleRate, (f, fs) => {
        const frequencyHz = axis(fs, 4);
        const level = (changed: Partial<Filter>): Float64Array =>
          filterResponseDb({ ...f, ...changed }, fs, frequencyHz);
        const analytic = responseDerivatives(f, fs, frequencyHz);
        // Steps small against the width of the filter on the frequency axis.
        const h = 2e-3 / Math.max(1, f.q * 10 ** (Math.abs(f.gainDb) / 40));
        // Against the warped axis too: close to half the sample rate tan(ω0/2) runs away.
        const hf = h * Math.min(1, fs / 2 / f.frequencyHz - 1);
        const numeric = {
          perLnFrequency: slope((s) => level({ frequencyHz: f.frequencyHz * Math.exp(s) }), hf),
          perGainDb: slope((s) => level({ gainDb: f.gainDb + s }), 0.05),
          perLnQ: slope((s) => level({ q: f.q * Math.exp(s) }), 2e-2),
        };
        for (const name of ['perLnFrequency', 'perGainDb', 'perLnQ'] as const) {
          const step = { perLnFrequency: hf, perGainDb: 0.05, perLnQ: 2e-2 }[name];
          // What the rounding of a level (some 1e-14 dB) is worth in the difference quotient.
          const floor = 2e-13 / step;
          // Share of what is allowed that the worst frequency uses.
          const worst = analytic[name].reduce((most, value, i) => {
            const allowed = 1e-5 * Math.abs(numeric[name][i]!) + floor;
            return Math.max(most, Math.abs(value - numeric[name][i]!) / allowed);
          }, 0);
          expect(worst, `${name} of ${JSON.stringify(f)}`).toBeLessThan(1);
        }
      }),
      { ...SEED, numRuns: 300 },
    );
  });

  it('is 1 dB a dB at the centre of a peaking filter, where frequency and Q make no difference', () => {
    const f: Filter = { type: 'peaking', frequencyHz: 320, gainDb: -7, q: 4 };
    const slopes = responseDerivatives(f, 48_000, Float64Array.of(320));
    expect(slopes.perGainDb[0]).toBeCloseTo(1, 12);
    expect(slopes.perLnFrequency[0]).toBeCloseTo(0, 10);
    expect(slopes.perLnQ[0]).toBeCloseTo(0, 10);
  });

  it('knows at gain 0 how a gain would act, and that frequency and Q do nothing', () => {
    const f: Filter = { type: 'lowShelf', frequencyHz: 150, gainDb: 0, q: 0.7 };
    const slopes = responseDerivatives(f, 48_000, Float64Array.of(0, 150, 24_000));
    expect([...slopes.perGainDb].map((x) => Math.round(x * 1e12) / 1e12)).toEqual([1, 0.5, 0]);
    expect([...slopes.perLnFrequency, ...slopes.perLnQ].every((x) => Math.abs(x) === 0)).toBe(true);
  });

  it('is finite at both ends of the axis and for centres on them', () => {
    for (const type of ['peaking', 'lowShelf', 'highShelf'] as const) {
      for (const frequencyHz of [0, 100, 24_000]) {
        const f: Filter = { type, frequencyHz, gainDb: 3, q: 1 };
        const slopes = responseDerivatives(f, 48_000, Float64Array.of(0, 24_000));
        for (const array of [slopes.perLnFrequency, slopes.perGainDb, slopes.perLnQ]) {
          expect(array.every(Number.isFinite)).toBe(true);
        }
      }
    }
    const plainGain: Filter = { type: 'highShelf', frequencyHz: 0, gainDb: 3, q: 1 };
    expect([...responseDerivatives(plainGain, 48_000, Float64Array.of(50, 5000)).perGainDb]).toEqual([1, 1]);
  });
});
