import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { biquadResponse } from '../../src/filter/biquadResponse.js';
import { coefficientError } from '../../src/filter/coefficientError.js';
import { cookbookCoefficients } from '../../src/filter/cookbookCoefficients.js';
import { biquadFromDelta, deltaCoefficients, roundedDeltaForm } from '../../src/filter/deltaForm.js';
import type { BiquadCoefficients, Filter } from '../../src/filter/filter.js';
import { filterResponseDb } from '../../src/filter/filterResponseDb.js';
import { fixedPointRange } from '../../src/filter/fixedPoint.js';
import { fixedPointFit } from '../../src/filter/fixedPointFit.js';
import { isStable } from '../../src/filter/isStable.js';
import { roundCoefficients } from '../../src/filter/roundCoefficients.js';
import { roundForResponse } from '../../src/filter/roundForResponse.js';
import { filter, SEED, sampleRate } from './filterArbitrary.js';

const FIVE_23 = { integerBits: 5, fractionBits: 23 };

/** Greatest difference in dB from 10 Hz up by the plain quotient of polynomials, 20,000 points a decade at low frequency. */
function differenceByHand(f: Filter, fs: number, c: BiquadCoefficients): number {
  const level = ({ b0, b1, b2, a1, a2 }: BiquadCoefficients, hz: number) => {
    const w = (2 * Math.PI * hz) / fs;
    const size = (x0: number, x1: number, x2: number) =>
      Math.hypot(x0 + x1 * Math.cos(w) + x2 * Math.cos(2 * w), x1 * Math.sin(w) + x2 * Math.sin(2 * w));
    return 20 * Math.log10(size(b0, b1, b2) / size(1, a1, a2));
  };
  const exact = cookbookCoefficients(f, fs);
  let worst = 0;
  for (let i = 0; i <= 40_000; i++) {
    const hz = 10 ** (1 + i / 20_000);
    worst = Math.max(worst, Math.abs(level(c, hz) - level(exact, hz)));
  }
  return worst;
}

describe('the difference stated for few bits', () => {
  // Rounded poles and zeros stand elsewhere and are sharper than the filter's own.
  it.each([
    ['peaking', 19.25, -0.993, 2.4185, 192_000, 2, 14],
    ['highShelf', 32.179, 5.629, 1.8735, 96_000, 6, 10],
    ['peaking', 39.822, -5.959, 9.0768, 192_000, 6, 16],
    ['peaking', 13.72, -0.829, 2.1868, 96_000, 6, 14],
    ['highShelf', 140.47, -4.594, 8.2338, 44_100, 6, 10],
    ['peaking', 44.693, -11.27, 3.8573, 192_000, 2, 14],
  ] as const)(
    'is the one there is: %s at %f Hz',
    (type, frequencyHz, gainDb, q, fs, integerBits, fractionBits) => {
      const f: Filter = { type, frequencyHz, gainDb, q };
      const { rounded, maxErrorDb, stable } = fixedPointFit(f, fs, { integerBits, fractionBits });
      expect(stable).toBe(true);
      const found = differenceByHand(f, fs, rounded.coefficients);
      expect(maxErrorDb).toBeGreaterThan(0.995 * found);
      expect(maxErrorDb).toBeLessThan(1.005 * found);
    },
  );
});

describe('roundForResponse', () => {
  it('never does worse than rounding each coefficient by itself, and stays on the grid, stable and in range', () => {
    let better = 0;
    fc.assert(
      fc.property(filter({ maxQ: 8, maxGainDb: 12 }), sampleRate, fc.boolean(), (f, fs, subtracted) => {
        const sign = subtracted ? 'subtracted' : 'added';
        const format = { integerBits: 4, fractionBits: 18 };
        const plain = roundCoefficients(cookbookCoefficients(f, fs), format, sign);
        fc.pre(plain.overflow.length === 0 && isStable(plain.coefficients));
        const sought = roundForResponse(f, fs, format, sign);
        const before = coefficientError(plain.coefficients, f, fs).maxErrorDb;
        const after = coefficientError(sought.coefficients, f, fs).maxErrorDb;
        expect(after).toBeLessThanOrEqual(before + 1e-9);
        if (after < 0.9 * before) better += 1;
        expect(isStable(sought.coefficients)).toBe(true);
        const { lowest, highest, step } = fixedPointRange(format);
        for (const name of ['b0', 'b1', 'b2', 'a1', 'a2'] as const) {
          const stored = (subtracted || name[0] === 'b' ? 1 : -1) * sought.coefficients[name];
          expect(sought.words[name] * step).toBe(stored + 0);
          expect(sought.words[name]).toBeGreaterThanOrEqual(lowest);
          expect(sought.words[name]).toBeLessThanOrEqual(highest);
        }
      }),
      { ...SEED, numRuns: 60 },
    );
    expect(better).toBeGreaterThan(15);
  });

  it('mends most of what rounding does to a low shelf at a high sample rate', () => {
    const f: Filter = { type: 'lowShelf', frequencyHz: 40, gainDb: 6, q: 0.7 };
    const format = { integerBits: 3, fractionBits: 21 };
    const plain = roundCoefficients(cookbookCoefficients(f, 192_000), format).coefficients;
    const sought = roundForResponse(f, 192_000, format).coefficients;
    expect(coefficientError(plain, f, 192_000).maxErrorDb).toBeGreaterThan(1);
    expect(coefficientError(sought, f, 192_000).maxErrorDb).toBeLessThan(
      coefficientError(plain, f, 192_000).maxErrorDb / 2,
    );
  });
});

describe('fixedPointFit', () => {
  it('holds an ordinary filter in 5.23 without a word of warning', () => {
    const f: Filter = { type: 'peaking', frequencyHz: 120, gainDb: -5, q: 4 };
    const fit = fixedPointFit(f, 48_000, FIVE_23);
    expect(fit.warnings).toEqual([]);
    expect(fit.maxErrorDb).toBeLessThan(0.02);
    expect(fit.stable).toBe(true);
    expect(fit.poleRadius).toBeLessThan(1);
  });

  it('states the error of the rounded response, found by comparing responses densely', () => {
    const f: Filter = { type: 'peaking', frequencyHz: 35, gainDb: 6, q: 3 };
    const fit = fixedPointFit(f, 96_000, { integerBits: 4, fractionBits: 20 });
    const frequencyHz = Float64Array.from({ length: 20_000 }, (_, i) => 10 * 4800 ** (i / 19_999));
    const meant = filterResponseDb(f, 96_000, frequencyHz);
    const { levelDb } = biquadResponse(fit.rounded.coefficients, 96_000, frequencyHz);
    const worst = levelDb.reduce((most, level, i) => Math.max(most, Math.abs(level - meant[i]!)), 0);
    expect(worst).toBeGreaterThan(0.005);
    expect(Math.abs(fit.maxErrorDb - worst)).toBeLessThan(0.002 + 0.03 * worst);
  });

  it('warns of a format too coarse for a low filter at a high sample rate, and what it suggests is true', () => {
    const f: Filter = { type: 'peaking', frequencyHz: 30, gainDb: -6, q: 4 };
    const fit = fixedPointFit(f, 192_000, FIVE_23);
    expect(fit.warnings).toHaveLength(1);
    expect(fit.warnings[0]!.code).toBe('coefficients-too-coarse');
    const [, bits] = /(\d+) fraction bits instead of 23/.exec(fit.warnings[0]!.message)!;
    const longer = fixedPointFit(f, 192_000, { integerBits: 5, fractionBits: Number(bits) });
    expect(longer.warnings).toEqual([]);
    expect(
      fixedPointFit(f, 192_000, { integerBits: 5, fractionBits: Number(bits) - 1 }).warnings,
    ).toHaveLength(1);
    expect(fit.warnings[0]!.message).toContain('delta-operator form');
    const delta = roundedDeltaForm(cookbookCoefficients(f, 192_000), FIVE_23)!;
    expect(coefficientError(biquadFromDelta(delta), f, 192_000).maxErrorDb).toBeLessThan(0.001);
  });

  it('warns of a coefficient outside the format and names the bits that it takes', () => {
    const f: Filter = { type: 'highShelf', frequencyHz: 4000, gainDb: 16, q: 0.7 };
    const fit = fixedPointFit(f, 48_000, { integerBits: 3, fractionBits: 21 });
    expect(fit.rounded.overflow).toEqual(['b0', 'b1']);
    expect(fit.warnings.map((w) => w.code)).toEqual(['coefficient-overflow']);
    expect(fit.warnings[0]!.message).toMatch(/b0 = 4\.4845, b1 = -6\.8597.*at least 4 integer bits/s);
    expect(fixedPointFit(f, 48_000, { integerBits: 4, fractionBits: 21 }).warnings).toEqual([]);
    expect(fit.warnings[0]!.message).toContain('share its gain between two filters');
    const low: Filter = { type: 'peaking', frequencyHz: 400, gainDb: 6, q: 2.2 };
    const never = fixedPointFit(low, 48_000, { integerBits: 1, fractionBits: 23 });
    expect(never.warnings[0]!.message).toContain('at least 2 integer bits.');
  });

  it('keeps every filter that it calls stable bounded when run', () => {
    // Impulse responses of rounded filters die away: a witness in time for the stability triangle.
    for (const frequencyHz of [25, 400, 15_000]) {
      const f: Filter = { type: 'peaking', frequencyHz, gainDb: 9, q: 6 };
      const fit = fixedPointFit(f, 48_000, { integerBits: 3, fractionBits: 20 });
      expect(fit.stable).toBe(true);
      const { b0, b1, b2, a1, a2 } = fit.rounded.coefficients;
      let [z1, z2, last] = [0, 0, 0];
      for (let n = 0; n < 100_000; n += 1) {
        const x = n === 0 ? 1 : 0;
        last = b0 * x + z1;
        z1 = b1 * x - a1 * last + z2;
        z2 = b2 * x - a2 * last;
      }
      expect(Math.abs(last)).toBeLessThan(1e-7);
    }
  });
});

describe('deltaForm', () => {
  it('is the same filter: coefficients there and back, and sample by sample when run as written', () => {
    const f: Filter = { type: 'lowShelf', frequencyHz: 60, gainDb: 7, q: 0.9 };
    const exact = cookbookCoefficients(f, 96_000);
    const delta = deltaCoefficients(exact, 9);
    const back = biquadFromDelta(delta);
    for (const name of ['b0', 'b1', 'b2', 'a1', 'a2'] as const)
      expect(back[name]).toBeCloseTo(exact[name], 14);

    const step = 2 ** -delta.shift;
    let [s1, s2, z1, z2, worst] = [0, 0, 0, 0, 0];
    for (let n = 0; n < 3000; n += 1) {
      const x = Math.sin(n * n * 0.001);
      const u = x - delta.a1 * s1 - delta.a2 * s2;
      const y = delta.b0 * u + delta.b1 * s1 + delta.b2 * s2;
      s2 += step * s1;
      s1 += step * u;
      const direct = exact.b0 * x + z1;
      z1 = exact.b1 * x - exact.a1 * direct + z2;
      z2 = exact.b2 * x - exact.a2 * direct;
      worst = Math.max(worst, Math.abs(y - direct));
    }
    expect(worst).toBeLessThan(1e-9);
  });

  it('has the largest shift at which all fits, and none where even 0 is too large', () => {
    const exact = cookbookCoefficients({ type: 'peaking', frequencyHz: 30, gainDb: -6, q: 4 }, 192_000);
    const { shift } = roundedDeltaForm(exact, FIVE_23)!;
    const size = (at: number): number => {
      const { b0, b1, b2, a1, a2 } = deltaCoefficients(exact, at);
      return Math.max(...[b0, b1, b2, a1, a2].map(Math.abs));
    };
    expect(size(shift)).toBeLessThan(16);
    expect(size(shift + 1)).toBeGreaterThan(16);
    const high = cookbookCoefficients({ type: 'peaking', frequencyHz: 20_000, gainDb: 3, q: 1 }, 48_000);
    expect(roundedDeltaForm(high, { integerBits: 1, fractionBits: 20 })).toBeUndefined();
  });
});
