import { describe, expect, it, test } from 'vitest';
import { logGrid } from '../../../src/curve/logGrid.js';
import { diagnose } from '../../../src/diagnosis/diagnose.js';
import { firstNullOctaves } from '../../../src/diagnosis/evidence/laterEvidence.js';
import { bankResponseDb } from '../../../src/filter/bankResponseDb.js';

const frequencyHz = logGrid(20, 20000);
const range = { fromHz: 20, toHz: 20000 };

test.each([-2, -6, -12])(
  'the first null of an echo that leaves %d dB is as wide as its own formula has it',
  (depthDb) => {
    const a = 1 - 10 ** (depthDb / 20);
    // Direct sound and echo half a period late at 1: |1 + a·e^(−iπx)|, searched for half its depth on either side.
    const level = (x: number) =>
      20 * Math.log10(Math.hypot(1 + a * Math.cos(Math.PI * x), a * Math.sin(Math.PI * x)));
    const points = Array.from({ length: 20001 }, (_, i) => i / 10000).filter((x) => level(x) <= depthDb / 2);
    expect(firstNullOctaves(depthDb)).toBeCloseTo(Math.log2(points.at(-1)! / points[0]!), 2);
  },
);

describe('a dip in an impulse response without a strong reflection', () => {
  // A dip among swings of the speaker's own that look like a comb: peaks about half and twice as high.
  const filters = [
    { type: 'peaking', frequencyHz: 620, gainDb: 2.5, q: 3 },
    { type: 'peaking', frequencyHz: 1300, gainDb: -6, q: 4 },
    { type: 'peaking', frequencyHz: 3400, gainDb: 3.5, q: 5 },
  ] as const;
  const dipWith = (q: number, laterDb?: number) => {
    const bank = filters.map((filter) => (filter.gainDb < 0 ? { ...filter, q } : filter));
    const curve = { frequencyHz, levelDb: bankResponseDb(bank, 48000, frequencyHz) };
    const later =
      laterDb === undefined ? undefined : { frequencyHz, levelDb: frequencyHz.map(() => laterDb) };
    const dips = diagnose({
      curve,
      range,
      reflections: [],
      ...(later && { laterSound: later }),
    }).findings.filter(({ kind, frequencyHz: f }) => kind === 'dip' && Math.abs(f - 1300) < 200);
    const evidence = dips[0]!.evidence.join(' ');
    return {
      ...dips[0]!,
      evidence,
      placement: Number(/the placement: .*?together (\d+) %/.exec(evidence)![1]),
    };
  };

  it('is less likely the placement where nothing strong enough follows, and more where something does', () => {
    const [quiet, unknown, loud] = [dipWith(4, -20), dipWith(4), dipWith(4, -4)];
    expect(quiet.placement).toBeLessThan(unknown.placement);
    expect(loud.placement).toBeGreaterThan(unknown.placement);
    expect(quiet.verdict).toBe('equalize');
    expect(loud.verdict).not.toBe('equalize');
    expect(quiet.evidence).toContain('a reflection that makes so narrow a dip comes then, with -6');
    expect(loud.evidence).toContain('sound of -4.0 dB relative to the direct sound follows it');
    expect(unknown.evidence).not.toContain('1.25 periods');
  });

  it('is not acquitted by quiet where it is as wide as the null of sound too early to be told apart', () => {
    const [quiet, loud] = [dipWith(1.2, -20), dipWith(1.2, -4)];
    expect(quiet.evidence).toContain("cannot be told from the speaker's own there");
    expect(quiet.placement).toBe(loud.placement);
  });
});

describe('the null of a dull wall close by, which shows in no impulse response', () => {
  // Behind a small box: what comes back has passed two poles, and lags by half a period at 350 to 500 Hz.
  const dullWall = (strength: number, delayS: number, poleHz: number) =>
    diagnose({
      curve: {
        frequencyHz,
        levelDb: frequencyHz.map((f) => {
          const size = strength / (1 + (f / poleHz) ** 2);
          const phase = 2 * Math.PI * f * delayS + 2 * Math.atan(f / poleHz);
          return 20 * Math.log10(Math.hypot(1 + size * Math.cos(phase), size * Math.sin(phase)));
        }),
      },
      range,
      reflections: [],
      laterSound: { frequencyHz, levelDb: frequencyHz.map(() => -20) },
    }).findings.filter(({ kind, levelDb }) => kind === 'dip' && levelDb < -1.5);

  test.each([
    [0.5, 0.0008, 700],
    [0.6, 0.0007, 800],
    [0.7, 0.0006, 700],
    [0.6, 0.0005, 900],
  ])('is not filled as the speaker’s own (%d, %d s, %d Hz)', (strength, delayS, poleHz) => {
    const dips = dullWall(strength, delayS, poleHz);
    expect(dips).not.toEqual([]);
    for (const { verdict, cause } of dips) {
      expect(verdict).not.toBe('equalize');
      expect(cause.type).not.toBe('speaker');
    }
  });
});
