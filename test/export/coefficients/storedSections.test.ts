import { describe, expect, test } from 'vitest';
import { storedSections } from '../../../src/export/coefficients/storedSections.js';
import type { Filter } from '../../../src/filter/filter.js';
import { inputGainDb } from '../../../src/filter/inputGainDb.js';

const filters: Filter[] = [
  { type: 'peaking', frequencyHz: 60, gainDb: 2.833, q: 3.4984 },
  { type: 'highShelf', frequencyHz: 126.19, gainDb: -1.53, q: 2.8355 },
  { type: 'lowShelf', frequencyHz: 305.53, gainDb: -1.253, q: 4.8263 },
  { type: 'highShelf', frequencyHz: 2438.3, gainDb: 2.076, q: 6.4729 },
  { type: 'peaking', frequencyHz: 9105.1, gainDb: 2.77, q: 2.1235 },
];
const design = (sampleRateHz: number) => ({
  schemaVersion: 1 as const,
  title: 'a bank',
  sampleRateHz,
  inputGainDb: inputGainDb(filters, sampleRateHz),
  filters,
});

/** By the transfer function itself, b₀ … over 1 + a₁z⁻¹ + a₂z⁻², on points close enough for every pole here. */
function peakDb(sections: readonly { readonly values: readonly number[] }[], sampleRateHz: number): number {
  let most = Number.NEGATIVE_INFINITY;
  for (let k = 0; k < 40_000; k++) {
    const w = ((2 * Math.PI) / sampleRateHz) * 5 * (sampleRateHz / 10.001) ** (k / 40_000);
    const at = (c0: number, c1: number, c2: number) =>
      Math.hypot(c0 + c1 * Math.cos(w) + c2 * Math.cos(2 * w), c1 * Math.sin(w) + c2 * Math.sin(2 * w));
    let db = 0;
    for (const { values } of sections) {
      const [b0, b1, b2, a1, a2] = values as [number, number, number, number, number];
      db += 20 * Math.log10(at(b0, b1, b2) / at(1, a1, a2));
    }
    most = Math.max(most, db);
  }
  return most;
}

describe('storedSections', () => {
  test.each([
    [48_000, 5, 23],
    [96_000, 5, 23],
    [192_000, 5, 23],
    [48_000, 3, 13],
    [96_000, 3, 16],
    [192_000, 3, 17],
  ])(
    'keep a rounded bank at or below 0 dB with their input gain: %f Hz, %d.%d',
    (rate, integerBits, fractionBits) => {
      const form = {
        feedbackSign: 'subtracted',
        order: ['b0', 'b1', 'b2', 'a1', 'a2'],
        fixedPoint: { integerBits, fractionBits },
      } as const;
      for (const made of [rate, 48_000]) {
        const { inputGainDb: gainDb, inputGainLinear, sections } = storedSections(design(made), rate, form);
        expect(20 * Math.log10(inputGainLinear)).toBeCloseTo(gainDb, 9);
        const over = peakDb(sections, rate) + gainDb;
        expect(over).toBeLessThanOrEqual(1e-6);
      }
    },
  );

  test('leave the gain of a design alone where nothing is rounded', () => {
    const form = { feedbackSign: 'subtracted', order: ['b0', 'b1', 'b2', 'a1', 'a2'] } as const;
    expect(storedSections({ ...design(48_000), inputGainDb: -5 }, 48_000, form).inputGainDb).toBe(-5);
  });
});
