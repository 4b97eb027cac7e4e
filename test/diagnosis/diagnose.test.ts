import { expect, test } from 'vitest';
import { pressureLevelDb } from '../../src/acoustics/complexPressure.js';
import { planePressure } from '../../src/acoustics/reflectionModel.js';
import { logGrid } from '../../src/curve/logGrid.js';
import { diagnose } from '../../src/diagnosis/diagnose.js';
import type { DiagnosisInput } from '../../src/diagnosis/scene/diagnosisInput.js';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';

const frequencyHz = logGrid(20, 20000);
const range = { fromHz: 20, toHz: 20000 };

/** A flat speaker with bell-shaped features of its own or the room's, dB at `atHz` with the given Q. */
function curveWith(...bells: readonly { atHz: number; db: number; q: number }[]) {
  const filters = bells.map(({ atHz, db, q }) => ({
    type: 'peaking' as const,
    frequencyHz: atHz,
    gainDb: db,
    q,
  }));
  return { frequencyHz, levelDb: bankResponseDb(filters, 48000, frequencyHz) };
}

const near = (input: DiagnosisInput, hz: number) =>
  diagnose(input).findings.find((f) => Math.abs(Math.log2(f.frequencyHz / hz)) < 0.08);

const moderate = { atHz: 700, db: -4.5, q: 2 };

test('a flat curve has no findings', () => {
  expect(diagnose({ curve: curveWith(), range })).toEqual({
    findings: [],
    warnings: [],
    notes: [],
    zones: [],
  });
});

test('a deep narrow null is for moving, with a zone that takes in its flanks', () => {
  const curve = curveWith({ atHz: 300, db: -15, q: 8 });
  const { findings, zones } = diagnose({ curve, range });
  expect(findings.map((f) => [f.kind, f.verdict])).toEqual([['dip', 'move']]);
  const outside = curve.levelDb.filter(
    (_, i) => frequencyHz[i]! < zones[0]!.fromHz || frequencyHz[i]! > zones[0]!.toHz,
  );
  expect(Math.min(...outside)).toBeGreaterThan(-1);
});

test('a broad moderate dip with nothing else known is for the equalizer', () => {
  expect(near({ curve: curveWith(moderate), range }, 700)?.verdict).toBe('equalize');
});

test('the same dip is for moving when it is gone at another placement', () => {
  const finding = near({ curve: curveWith(moderate), range, moved: [curveWith()] }, 700);
  expect(finding?.verdict).toBe('move');
  expect(finding?.evidence.join(' ')).toContain('gone from 700 Hz');
});

test('a dip that stays at another placement is laid to the speaker, even a sharp one', () => {
  const sharp = { atHz: 700, db: -13, q: 8 };
  expect(near({ curve: curveWith(sharp), range }, 700)?.verdict).toBe('move');
  const finding = near({ curve: curveWith(sharp), range, moved: [curveWith(sharp)] }, 700);
  expect(finding?.verdict).toBe('equalize');
  expect(finding?.cause.type).toBe('speaker');
});

test('the same dip is for moving where the positions disagree far more than elsewhere', () => {
  const spreadDb = frequencyHz.map((f) => (Math.abs(Math.log2(f / 700)) < 0.2 ? 3 : 0.5));
  expect(near({ curve: curveWith(moderate), range, spreadDb }, 700)?.verdict).toBe('move');
  expect(near({ curve: curveWith(moderate), range, spreadDb: spreadDb.map(() => 3) }, 700)?.verdict).toBe(
    'equalize',
  );
});

test('a reflection seen in time names the dips of its comb', () => {
  const seen = (delayS: number, levelDb: number) => [{ delayS, levelDb, pathDifferenceM: 343.2 * delayS }];
  const input = { curve: curveWith(moderate), range };
  const finding = near({ ...input, reflections: seen(1 / 1400, -8) }, 700);
  expect(finding?.verdict).toBe('move');
  expect(finding?.evidence.join(' ')).toContain('0.71 ms after the direct sound');
  expect(near({ ...input, reflections: seen(1 / 1400, -20) }, 700)?.verdict).toBe('equalize');
  expect(near({ ...input, reflections: seen(1 / 1000, -8) }, 700)?.verdict).toBe('equalize');
});

test('a cancellation that the set-up predicts is for moving and says how far', () => {
  const at = (m: number) => ({ m, toleranceM: 0 });
  const setup = {
    temperatureC: 20,
    microphoneDistance: at(1),
    lengthUnit: 'cm' as const,
    surfaces: [{ name: 'wall behind', speakerDistance: at(0.25), microphoneDistance: at(1.25) }],
  };
  // A quarter wavelength: c/(4·0.25 m) = 343 Hz.
  const { levelDb } = {
    levelDb: pressureLevelDb(
      planePressure(
        frequencyHz,
        { r: 1, hs: 0.25, hm: 1.25 },
        { strength: 0.62, cornerHz: 2000, lagM: 0 },
        343.2,
      ),
    ),
  };
  const finding = near({ curve: { frequencyHz, levelDb }, range, setup }, 320);
  expect(finding?.verdict).toBe('move');
  expect(finding?.cause).toMatchObject({ type: 'reflection', surface: 'wall behind' });
  expect(finding?.cause.predictedHz).toBeCloseTo(343.2, 0);
  expect(finding?.advice).toContain('to 45 cm');
});
