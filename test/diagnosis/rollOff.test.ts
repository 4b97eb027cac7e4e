import { expect, test } from 'vitest';
import { type Box, boxLevelDb, sealedCornerHz } from '../../src/acoustics/boxRolloff.js';
import { logGrid } from '../../src/curve/logGrid.js';
import { fitRollOff } from '../../src/diagnosis/rollOff.js';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';

const frequencyHz = logGrid(20, 20000);
const uneven = bankResponseDb(
  [
    { type: 'peaking', frequencyHz: 130, gainDb: 4, q: 4 },
    { type: 'peaking', frequencyHz: 320, gainDb: -6, q: 2 },
  ],
  48000,
  frequencyHz,
);
const measured = (box: Box) => ({
  frequencyHz,
  levelDb: frequencyHz.map((f, i) => 80 + boxLevelDb(f, box) + uneven[i]!),
});

test('a sealed box is recognised by its 12 dB per octave, with its corner within a third of an octave', () => {
  const box = { kind: 'sealed', resonanceHz: 70, qtc: 0.8 } as const;
  const found = fitRollOff(measured(box), { fromHz: 50, toHz: 18000 })!;
  expect(found.slopeDbPerOctave).toBeCloseTo(12.04, 1);
  expect(Math.abs(Math.log2(found.cornerHz / sealedCornerHz(box)))).toBeLessThan(1 / 3);
});

test('a vented box is recognised by its 24 dB per octave', () => {
  const found = fitRollOff(measured({ kind: 'vented', cornerHz: 55 }), { fromHz: 42, toHz: 18000 })!;
  expect(found.slopeDbPerOctave).toBeCloseTo(24.08, 1);
  expect(Math.abs(Math.log2(found.cornerHz / 55))).toBeLessThan(1 / 6);
});

test('a curve that does not fall has no box in it', () => {
  expect(fitRollOff({ frequencyHz, levelDb: uneven }, { fromHz: 20, toHz: 20000 })).toBeUndefined();
});
