import { expect, test } from 'vitest';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import { cookbookCoefficients } from '../../src/filter/cookbookCoefficients.js';
import type { Filter } from '../../src/filter/filter.js';
import { verifyDesign } from '../../src/verify/verifyDesign.js';
import { before, designOf, sampleRateHz } from './smallRoom.js';

/** |H| of sections whose coefficients are rounded to so many fraction bits, evaluated on the unit circle, in dB. */
function storedDb(filters: readonly Filter[], fractionBits: number, hz: number): number {
  const step = 2 ** -fractionBits;
  const w = (2 * Math.PI * hz) / sampleRateHz;
  return filters.reduce((sum, filter) => {
    const c = cookbookCoefficients(filter, sampleRateHz);
    const [b0, b1, b2, a1, a2] = [c.b0, c.b1, c.b2, c.a1, c.a2].map((v) => Math.round(v / step) * step);
    const power = (x: number, y: number, z: number) =>
      (x + y * Math.cos(w) + z * Math.cos(2 * w)) ** 2 + (y * Math.sin(w) + z * Math.sin(2 * w)) ** 2;
    return sum + 10 * Math.log10(power(b0!, b1!, b2!) / power(1, a1!, a2!));
  }, 0);
}

const bank: readonly Filter[] = [
  { type: 'peaking', frequencyHz: 91, gainDb: -5.6, q: 3 },
  { type: 'peaking', frequencyHz: 842, gainDb: -4.8, q: 2.2 },
];
const fractionBits = 15;
const eqDb = before.frequencyHz.map((hz) => storedDb(bank, fractionBits, hz));
const plain = designOf(bank);
const design = {
  ...plain,
  curves: { ...plain.curves, eqDb: Array.from(eqDb) },
  device: {
    name: 'words of 18 bits',
    sampleRatesHz: [sampleRateHz],
    qConvention: 'cookbook' as const,
    coefficients: {
      fixedPoint: { integerBits: 3, fractionBits },
      feedbackSign: 'subtracted' as const,
      order: ['b0' as const, 'b1' as const, 'b2' as const, 'a1' as const, 'a2' as const],
    },
  },
};
const heard = (addedDb: Float64Array) => ({
  ...before,
  levelDb: before.levelDb.map((db, i) => db - 5 + addedDb[i]!),
});

test('holds coarse words to what they do and the design shows, not to the numbers that they were made of', () => {
  const ownDb = bankResponseDb(bank, sampleRateHz, before.frequencyHz);
  const off = eqDb.reduce((most, db, i) => Math.max(most, Math.abs(db - ownDb[i]!)), 0);
  expect(off).toBeGreaterThan(0.4);
  const right = verifyDesign({ design, after: heard(eqDb) });
  expect(right).toMatchObject({ asPromised: true, faults: [] });
  expect(right.errorRmsDb).toBeLessThan(0.02);
});

test('still says of them what is missing', () => {
  const none = verifyDesign({ design, after: heard(eqDb.map(() => 0)) });
  expect(none.faults).toMatchObject([{ type: 'bypassed' }]);
  expect(none.remainingRmsDb).toBeLessThan(0.02);
  const first = before.frequencyHz.map((hz) => storedDb(bank.slice(0, 1), fractionBits, hz));
  expect(verifyDesign({ design, after: heard(first) }).faults).toMatchObject([
    { type: 'filterMissing', filter: 1 },
  ]);
});
