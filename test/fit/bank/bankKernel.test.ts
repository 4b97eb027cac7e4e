import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { bankResponseDb } from '../../../src/filter/bankResponseDb.js';
import { bandsFromFilters } from '../../../src/fit/bank/bands.js';
import { bankValues, bankValuesAndJacobian } from '../../../src/fit/bank/bankKernel.js';
import { axis, filter, SEED, sampleRate } from '../../filter/filterArbitrary.js';

const warpedOf = (frequencyHz: Float64Array, sampleRateHz: number) =>
  frequencyHz.map((hz) => Math.tan((Math.PI * hz) / sampleRateHz) ** 2);

const greatest = (values: Float64Array) => values.reduce((most, v) => Math.max(most, Math.abs(v)), 0);
const banks = fc.array(filter(), { minLength: 1, maxLength: 8 });
/** From 1 Hz to just below half the sample rate. */
const inside = (sampleRateHz: number) => axis(sampleRateHz, 6).slice(1, -1);

describe('the kernel', () => {
  test('gives what the filter room gives for any bank at any sample rate', () => {
    fc.assert(
      fc.property(banks, sampleRate, (filters, sampleRateHz) => {
        const frequencyHz = inside(sampleRateHz);
        const { types, values } = bandsFromFilters(filters);
        const eqDb = new Float64Array(frequencyHz.length);
        bankValues(types, values, warpedOf(frequencyHz, sampleRateHz), sampleRateHz, eqDb);
        const expected = bankResponseDb(filters, sampleRateHz, frequencyHz);
        // Both are closed forms in double precision; a sum of eight filters keeps well below this.
        expect(greatest(eqDb.map((db, p) => db - expected[p]!))).toBeLessThan(1e-9);
      }),
      { ...SEED, numRuns: 150 },
    );
  });

  test('holds to the very end of the axis, half the sample rate', () => {
    const filters = [
      { type: 'highShelf', frequencyHz: 9000, gainDb: 5, q: 0.9 },
      { type: 'peaking', frequencyHz: 15000, gainDb: -7, q: 1.1 },
    ] as const;
    const { types, values } = bandsFromFilters(filters);
    const eqDb = new Float64Array(2);
    bankValues(types, values, warpedOf(Float64Array.of(0, 24000), 48000), 48000, eqDb);
    expect(eqDb[0]).toBeCloseTo(0, 9);
    expect(eqDb[1]).toBeCloseTo(5, 9);
  });

  test('gives the same levels with the Jacobian as without', () => {
    fc.assert(
      fc.property(banks, sampleRate, (filters, sampleRateHz) => {
        const warped = warpedOf(inside(sampleRateHz), sampleRateHz);
        const { types, values } = bandsFromFilters(filters);
        const alone = new Float64Array(warped.length);
        const together = new Float64Array(warped.length);
        bankValues(types, values, warped, sampleRateHz, alone);
        const jacobian = new Float64Array(warped.length * values.length);
        bankValuesAndJacobian(types, values, warped, sampleRateHz, together, jacobian);
        expect(greatest(together.map((db, p) => db - alone[p]!))).toBeLessThan(1e-10);
      }),
      { ...SEED, numRuns: 60 },
    );
  });

  test('has a Jacobian that agrees with central differences to 1e-5 relative', () => {
    fc.assert(
      fc.property(banks, sampleRate, (filters, sampleRateHz) => {
        const warped = warpedOf(inside(sampleRateHz), sampleRateHz);
        const { types, values } = bandsFromFilters(filters);
        const points = warped.length;
        const jacobian = new Float64Array(points * values.length);
        bankValuesAndJacobian(types, values, warped, sampleRateHz, new Float64Array(points), jacobian);
        const levelsAt = (j: number, by: number) => {
          const moved = values.slice();
          moved[j]! += by;
          const eqDb = new Float64Array(points);
          bankValues(types, moved, warped, sampleRateHz, eqDb);
          return eqDb;
        };
        for (let j = 0; j < values.length; j++) {
          // Richardson's step takes the differences' own error of second order out.
          const h = 2e-4;
          const [a, b, c, d] = [levelsAt(j, h), levelsAt(j, -h), levelsAt(j, 2 * h), levelsAt(j, -2 * h)];
          const row = jacobian.subarray(j * points, (j + 1) * points);
          const scale = greatest(row);
          const misses = row.map((analytic, p) => {
            const numeric = (8 * (a[p]! - b[p]!) - (c[p]! - d[p]!)) / (12 * h);
            return (analytic - numeric) / (1e-5 * Math.abs(analytic) + 1e-8 * scale + 1e-9);
          });
          expect(greatest(misses)).toBeLessThanOrEqual(1);
        }
      }),
      { ...SEED, numRuns: 60 },
    );
  });
});
