import { expect, test } from 'vitest';
import { logGrid } from '../../src/curve/logGrid.js';
import { resampleToGrid } from '../../src/curve/resampleToGrid.js';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import type { Filter } from '../../src/filter/filter.js';
import { addedDb } from '../../src/verify/cellResponse.js';
import { bank, sampleRateHz } from './smallRoom.js';

const grid = logGrid(40, 16000, 24);
const dense = logGrid(20, 20000, 3000);

test.each<[string, Filter]>([
  ['a cut of a sixth of a cell', { type: 'peaking', frequencyHz: 1000, gainDb: -9, q: 200 }],
  ['a boost of a cell', { type: 'peaking', frequencyHz: 133.4, gainDb: 6, q: 34 }],
  ['a cut of three cells', { type: 'peaking', frequencyHz: 5220, gainDb: -12, q: 12 }],
])('%s adds to cells what a dense measurement averaged into them shows', (_, filter) => {
  const levelDb = bankResponseDb([filter], sampleRateHz, dense);
  const seen = resampleToGrid({ frequencyHz: dense, levelDb }, grid);
  const added = addedDb([filter], sampleRateHz, { frequencyHz: grid, inCells: true });
  expect(seen.frequencyHz.length).toBe(added.length);
  for (const [i, db] of added.entries()) expect(Math.abs(db - seen.levelDb[i]!)).toBeLessThan(0.1);
  // At points it would not have been so.
  const points = addedDb([filter], sampleRateHz, { frequencyHz: grid, inCells: false });
  expect(Math.max(...points.map((db, i) => Math.abs(db - seen.levelDb[i]!)))).toBeGreaterThan(0.2);
});

test('a bank of wide filters is taken at points', () => {
  const expected = Array.from(bankResponseDb(bank, sampleRateHz, grid));
  const added = addedDb(bank, sampleRateHz, { frequencyHz: grid, inCells: true });
  expect(Array.from(added)).toEqual(expected);
});

test('stretched, a response lies that many times higher', () => {
  const filter: Filter = { type: 'peaking', frequencyHz: 1000, gainDb: -6, q: 2 };
  const added = addedDb([filter], sampleRateHz, { frequencyHz: grid, inCells: false }, 2);
  const deepest = added.indexOf(Math.min(...added));
  expect(Math.abs(Math.log2(grid[deepest]! / 2000))).toBeLessThan(1 / 24);
});
