import { expect, test } from 'vitest';
import { logGrid } from '../../../src/curve/logGrid.js';
import { diagnose } from '../../../src/diagnosis/diagnose.js';
import { bankResponseDb } from '../../../src/filter/bankResponseDb.js';

const frequencyHz = logGrid(20, 20000);
const range = { fromHz: 20, toHz: 20000 };
const dip = { type: 'peaking', frequencyHz: 700, gainDb: -3, q: 2 } as const;
const curve = { frequencyHz, levelDb: bankResponseDb([dip], 48000, frequencyHz) };

/** What is said of a wide dip at which the excess group delay rises to so many periods. */
function findingWith(periods: number) {
  const excessGroupDelayS = frequencyHz.map((hz) =>
    Math.abs(Math.log2(hz / dip.frequencyHz)) < 1 / 24 ? periods / dip.frequencyHz : 0,
  );
  return diagnose({ curve, range, excessGroupDelayS }).findings.find((f) => f.kind === 'dip')!;
}

test('of a dip that an EQ is to mend, late sound is told without saying that no EQ mends it', () => {
  const { verdict, evidence } = findingWith(1.3);
  expect(verdict).toBe('equalize');
  const said = evidence.join(' ');
  expect(said).toMatch(/\(1\.3\d periods\)/);
  expect(said).toContain('that part no EQ can undo');
  expect(said).not.toContain('and no EQ can undo it');
});

test('a small excess is none', () => {
  expect(findingWith(0.3).evidence.join(' ')).toContain('It is minimum phase as far as measured');
});
