import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { BiquadCoefficients } from '../../src/filter/filter.js';
import { isStable } from '../../src/filter/isStable.js';
import { poleRadius } from '../../src/filter/poleRadius.js';
import { SEED } from './filterArbitrary.js';

const recursive = (a1: number, a2: number): BiquadCoefficients => ({ b0: 1, b1: 0, b2: 0, a1, a2 });

describe('poleRadius', () => {
  it('is the radius of a pair of complex poles', () => {
    expect(poleRadius(recursive(-2 * 0.97 * Math.cos(0.3), 0.97 ** 2))).toBeCloseTo(0.97, 12);
  });

  it('is the outer one of two real poles, on either side', () => {
    expect(poleRadius(recursive(-(0.5 + 0.9), 0.45))).toBeCloseTo(0.9, 12);
    expect(poleRadius(recursive(0.5 + 0.9, 0.45))).toBeCloseTo(0.9, 12);
    expect(poleRadius(recursive(0.3, -0.4))).toBeCloseTo(0.8, 12);
  });
});

describe('isStable', () => {
  it('says the same as the pole radius', () => {
    const coefficient = fc.double({ min: -2.5, max: 2.5, noNaN: true });
    let stable = 0;
    fc.assert(
      fc.property(coefficient, coefficient, (a1, a2) => {
        const radius = poleRadius(recursive(a1, a2));
        fc.pre(Math.abs(radius - 1) > 1e-9);
        if (radius < 1) stable += 1;
        expect(isStable(recursive(a1, a2))).toBe(radius < 1);
      }),
      { ...SEED, numRuns: 500 },
    );
    expect(stable).toBeGreaterThan(50);
  });

  it('refuses poles on the circle, however close the coefficients come', () => {
    const step = 2 ** -23;
    expect(isStable(recursive(-2 + step, 1 - step))).toBe(false); // pole at z = 1 exactly
    expect(isStable(recursive(-2 + 2 * step, 1 - step))).toBe(true);
    expect(isStable(recursive(0, 1))).toBe(false);
    expect(isStable(recursive(Number.NaN, 0.5))).toBe(false);
  });
});
