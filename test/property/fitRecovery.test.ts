import { expect, test } from 'vitest';
import { logGrid } from '../../src/curve/logGrid.js';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import { recoveryCase } from '../evaluate/recoveryCases.js';
import { fitRecovery } from '../evaluate/recoveryFit.js';

/** A few of the cases of `npx tsx test/evaluate/recovery.ts`, which prints the whole table. */
const CASES = [
  ...[1, 2].map((seed) => recoveryCase(3, seed)),
  ...[1, 2, 3].map((seed) => recoveryCase(5, seed)),
  ...[1, 2, 3].map((seed) => recoveryCase(7, seed)),
  ...[1, 2].map((seed) => recoveryCase(10, seed)),
];

test('a curve made of minus K bands is made flat by K bands: to 0.05 dB in nine of ten cases, to 0.3 dB in all', () => {
  const left = CASES.map((bank) => {
    const { filters, rmsDb } = fitRecovery(bank);
    expect(filters.length).toBeLessThanOrEqual(bank.length);
    // What is claimed is what is there: the curve plus the filters, about its mean, every octave weighing the same.
    const grid = logGrid(20, 20000);
    const wanted = bankResponseDb(bank, 48000, grid);
    const remains = bankResponseDb(filters, 48000, grid).map((db, i) => db - wanted[i]!);
    const mean = remains.reduce((sum, db) => sum + db, 0) / remains.length;
    const rms = Math.sqrt(remains.reduce((sum, db) => sum + (db - mean) ** 2, 0) / remains.length);
    expect(Math.abs(rms - rmsDb)).toBeLessThan(0.002 + 0.02 * rms);
    const before = Math.sqrt(wanted.reduce((sum, db) => sum + db * db, 0) / wanted.length);
    expect(before).toBeGreaterThan(0.5);
    return rms;
  });
  expect(left.filter((rms) => rms <= 0.05).length).toBeGreaterThanOrEqual(9);
  expect(Math.max(...left)).toBeLessThanOrEqual(0.3);
});
