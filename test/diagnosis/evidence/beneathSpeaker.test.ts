import { describe, expect, test } from 'vitest';
import { gaussian, seededRandom } from '../../../fixtures/simulate/seededRandom.js';
import { boxLevelDb, sealedCornerHz } from '../../../src/acoustics/boxRolloff.js';
import { logGrid } from '../../../src/curve/logGrid.js';
import { diagnose } from '../../../src/diagnosis/diagnose.js';
import type { Finding } from '../../../src/diagnosis/verdict/finding.js';

const GRID_HZ = logGrid(20, 20000, 48);
const BOX = { kind: 'sealed', resonanceHz: 90, qtc: Math.SQRT1_2 } as const;
const NOISE_ALIKE_OVER_HZ = 2;
/** A wall behind: 2.5 m of detour, strong below, dull above. */
const DETOUR_M = 2.5;
const SPEED_MS = 343;

/** A closed box with a wall behind it, and noise as loud as a fortieth of its pass band. */
function measured(seed: number, { noise = 1 / 40, wall = 0.7, detourM = DETOUR_M } = {}) {
  const random = seededRandom(seed);
  const each = Array.from({ length: 10000 }, () => [gaussian(random), gaussian(random)] as const);
  const levelDb = GRID_HZ.map((hz) => {
    const direct = 10 ** (boxLevelDb(hz, BOX) / 20);
    const strength = wall / (1 + (hz / 900) ** 2);
    const turn = (-2 * Math.PI * hz * detourM) / SPEED_MS;
    const [re, im] = each[Math.floor(hz / NOISE_ALIKE_OVER_HZ)]!;
    return (
      85 +
      20 *
        Math.log10(
          Math.hypot(
            direct * (1 + strength * Math.cos(turn)) + noise * re,
            direct * strength * Math.sin(turn) + noise * im,
          ),
        )
    );
  });
  return { frequencyHz: GRID_HZ, levelDb };
}

const findingsOf = (seed: number, options = {}) =>
  diagnose({ curve: measured(seed, options), range: { fromHz: 20, toHz: 16000 } }).findings;
const isFarDown = ({ frequencyHz }: Finding) => boxLevelDb(frequencyHz, BOX) < -12;
const SEEDS = [1, 2, 3, 4, 5, 6];

describe('far down the speaker’s own fall, asked for by a lower end of 20 Hz', () => {
  test('a dip of the noise is laid to nobody, and nobody is sent about the room for it', () => {
    const there = SEEDS.flatMap((seed) => findingsOf(seed)).filter(isFarDown);
    const dips = there.filter(({ kind }) => kind === 'dip');
    expect(dips.length).toBeGreaterThan(5);
    for (const { cause, verdict, evidence } of dips) {
      expect(cause.type).toBe('unknown');
      expect(verdict).toBe('leave');
      expect(evidence.join(' ')).toMatch(/own fall has taken \d+ dB off here, so noise/);
    }
    for (const { cause } of there.filter(({ kind }) => kind === 'peak')) expect(cause.type).toBe('unknown');
    const worth = dips.filter(({ advice }) => advice !== undefined);
    expect(worth.length).toBeGreaterThan(0);
    for (const { advice } of worth) expect(advice).toMatch(/Let the range begin where the speaker plays/);
  });

  test('the nulls of the wall farther up are laid to it as before', () => {
    expect(sealedCornerHz(BOX)).toBeCloseTo(90, 0);
    for (const seed of SEEDS) {
      const second = findingsOf(seed).find(
        ({ kind, frequencyHz }) =>
          kind === 'dip' && Math.abs(frequencyHz / ((1.5 * SPEED_MS) / DETOUR_M) - 1) < 0.06,
      );
      expect([second?.cause.type, second?.verdict]).toEqual(['reflection', 'move']);
    }
  });

  test('so is one down there that the same wall makes', () => {
    // The first null of 4.6 m of detour lies at 37 Hz, where this box has lost 15 dB.
    const first = findingsOf(1, { noise: 0, wall: 0.85, detourM: 4.6 }).find(
      ({ kind, frequencyHz }) => kind === 'dip' && Math.abs(frequencyHz / 37.3 - 1) < 0.06,
    );
    expect([first?.cause.type, first?.verdict]).toEqual(['reflection', 'move']);
  });
});
