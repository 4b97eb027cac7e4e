import { expect, test } from 'vitest';
import { logGrid } from '../../../src/curve/logGrid.js';
import { diagnose } from '../../../src/diagnosis/diagnose.js';
import { bankResponseDb } from '../../../src/filter/bankResponseDb.js';

const frequencyHz = logGrid(20, 20000);
const range = { fromHz: 20, toHz: 20000 };
const dip = { type: 'peaking', frequencyHz: 1000, gainDb: -6, q: 3 } as const;
const curve = { frequencyHz, levelDb: bankResponseDb([dip], 48000, frequencyHz) };
const flat = { frequencyHz, levelDb: new Float64Array(frequencyHz.length) };

const verdictWith = (direct?: { curve: typeof curve; resolvedFromHz: number }) => {
  const finding = diagnose({ curve, range, ...(direct && { direct }) }).findings.find(
    (f) => f.kind === 'dip',
  );
  return { verdict: finding?.verdict, evidence: finding?.evidence.join(' ') ?? '' };
};

test('a dip that the direct sound alone has as well is the speaker', () => {
  const { verdict, evidence } = verdictWith({ curve, resolvedFromHz: 200 });
  expect(verdict).toBe('equalize');
  expect(evidence).toContain("has 100 % of it at 1 kHz: that part is the speaker's");
});

test('a dip that comes with the reflections is less likely the speaker than one nothing is known of', () => {
  const odds = (evidence: string) => Number(/together (\d+) %/.exec(evidence)?.[1]);
  const without = verdictWith();
  const { evidence } = verdictWith({ curve: flat, resolvedFromHz: 200 });
  expect(evidence).toContain('has 0 % of it at 1 kHz: the rest comes with the reflections');
  expect(odds(evidence)).toBeGreaterThan(odds(without.evidence) + 10);
});

test('below what the gate resolves the direct sound says nothing', () => {
  expect(verdictWith({ curve: flat, resolvedFromHz: 600 }).evidence).not.toContain('direct sound alone');
});
