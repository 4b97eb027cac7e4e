import { expect, test } from 'vitest';
import { seededRandom } from '../../../fixtures/simulate/seededRandom.js';
import { type Box, boxCornerHz, boxLevelDb, sealedCornerHz } from '../../../src/acoustics/boxRolloff.js';
import { logGrid } from '../../../src/curve/logGrid.js';
import { fitRollOff, isWellDetermined } from '../../../src/diagnosis/speaker/rollOff.js';
import { bankResponseDb } from '../../../src/filter/bankResponseDb.js';

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
  const found = fitRollOff(measured(box))!;
  expect(found.slopeDbPerOctave).toBeCloseTo(12.04, 1);
  expect(Math.abs(Math.log2(found.cornerHz / sealedCornerHz(box)))).toBeLessThan(1 / 3);
});

test('a vented box is recognised by its 24 dB per octave', () => {
  const found = fitRollOff(measured({ kind: 'vented', cornerHz: 55 }))!;
  expect(found.slopeDbPerOctave).toBeCloseTo(24.08, 1);
  expect(Math.abs(Math.log2(found.cornerHz / 55))).toBeLessThan(1 / 6);
});

test('a curve that does not fall has no box in it', () => {
  expect(fitRollOff({ frequencyHz, levelDb: uneven })).toBeUndefined();
});

const withOwn = (box: Box, own: readonly { hz: number; db: number; q: number }[]) => {
  const ownDb = bankResponseDb(
    own.map(({ hz, db, q }) => ({ type: 'peaking' as const, frequencyHz: hz, gainDb: db, q })),
    48000,
    frequencyHz,
  );
  return { frequencyHz, levelDb: frequencyHz.map((f, i) => 80 + boxLevelDb(f, box) + ownDb[i]!) };
};
const butterworth70 = { kind: 'sealed', resonanceHz: 70, qtc: Math.SQRT1_2 } as const;

test.each([
  [{ hz: 300, db: -3, q: 2 }],
  [{ hz: 420, db: 3, q: 2 }],
  [{ hz: 200, db: -6, q: 3 }],
  [{ hz: 800, db: 5, q: 3 }],
])('a dip or peak far above the corner leaves it where it is: %o', (own) => {
  const alone = fitRollOff(withOwn(butterworth70, []))!.cornerHz;
  const found = fitRollOff(withOwn(butterworth70, [own]))!.cornerHz;
  // A Butterworth box is 3 dB down at its resonance (Small 1972).
  expect(Math.abs(Math.log2(alone / 70))).toBeLessThan(0.1);
  expect(Math.abs(Math.log2(found / alone))).toBeLessThan(0.1);
});

test('a swing too broad to be told from a baffle’s step leaves it in doubt, on the safe side', () => {
  const broad = fitRollOff(withOwn(butterworth70, [{ hz: 800, db: 5, q: 0.8 }]))!;
  expect(broad.cornerHz).toBeGreaterThan(70);
  expect(broad.fromHz).toBeLessThan(70);
});

test('over speakers with dips and peaks of their own it is seldom found too low', () => {
  const random = seededRandom(66100);
  const octavesOff = Array.from({ length: 60 }, () => {
    const hz = 40 * 3 ** random();
    const box: Box =
      random() < 0.5
        ? { kind: 'sealed', resonanceHz: hz, qtc: 0.5 + 0.6 * random() }
        : { kind: 'vented', cornerHz: hz };
    const own = [0, 1].map(() => ({
      hz: 100 * 10 ** random(),
      db: (random() < 0.5 ? -1 : 1) * (2 + 4 * random()),
      q: 0.7 * 7 ** random(),
    }));
    return Math.log2((fitRollOff(withOwn(box, own))?.cornerHz ?? 20) / boxCornerHz(box));
  }).sort((a, b) => a - b);
  // A quarter lies lower than a twelfth of an octave below the truth where levels are taken for the box's as they are.
  expect(octavesOff[15]).toBeGreaterThan(-1 / 12);
  expect(Math.abs(octavesOff[30]!)).toBeLessThan(1 / 6);
  expect(octavesOff[54]).toBeLessThan(0.4);
});

test('a corner that may as well lie elsewhere is said to, one that a clean fall shows is not', () => {
  expect(isWellDetermined(fitRollOff(withOwn({ kind: 'vented', cornerHz: 60 }, []))!)).toBe(true);
  const hidden = fitRollOff(
    withOwn(butterworth70, [
      { hz: 90, db: -6, q: 1 },
      { hz: 160, db: 6, q: 2 },
      { hz: 55, db: 5, q: 3 },
    ]),
  )!;
  expect(isWellDetermined(hidden)).toBe(false);
  expect(hidden.fromHz).toBeLessThan(hidden.cornerHz);
  expect(hidden.toHz).toBeGreaterThan(hidden.cornerHz);
});
