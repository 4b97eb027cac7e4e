import { describe, expect, test } from 'vitest';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import type { Filter } from '../../src/filter/filter.js';
import { humpsOf } from '../../src/verify/humpsOf.js';
import { verifyDesign } from '../../src/verify/verifyDesign.js';
import { bank, designOf, measuredWith, sampleRateHz } from './smallRoom.js';

const peak = (frequencyHz: number, gainDb: number, q = 1): Filter => ({
  type: 'peaking',
  frequencyHz,
  gainDb,
  q,
});
/** Left on beside the filters: a broad rise and fall, and the presets of other rooms. */
const left: readonly (readonly [string, readonly Filter[]])[] = [
  ['a rise at 600 Hz and a fall at 3 kHz', [peak(600, 7), peak(3000, -6)]],
  ['a preset of four', [peak(95, -7, 2), peak(420, 6, 1.6), peak(1100, -6, 1.5), peak(2600, 5, 2)]],
  ['one of three', [peak(250, -8, 1.3), peak(900, 6, 1.4), peak(1800, -6.5, 1.3)]],
];

describe.each(left)('what acts beside the filters: %s', (_, others) => {
  test.each([2, 3, 4])('is told as that, with what it does, and not as a move (noise %i)', (seed) => {
    const { faults } = verifyDesign({
      design: designOf(),
      after: measuredWith([...bank, ...others], { seed }),
    });
    expect(faults).toHaveLength(1);
    const [{ type, message, fix, explains }] = faults as [(typeof faults)[number]];
    expect(type).toBe('unknown');
    expect(faults[0]).not.toHaveProperty('filter');
    expect(explains).toBeGreaterThan(0.8);
    expect(message).toMatch(/^Something of another shape acts on the whole curve: /);
    expect(message).toContain('filters of another preset left on');
    expect(fix).toMatch(/^See that no other equalizer, preset or tone control acts/);
    const told = [...message.matchAll(/([+-][\d.]+) dB near ([\d.]+) (k?)Hz/g)].map(
      ([, db, hz, kilo]) => [Number(db), Number(hz) * (kilo ? 1000 : 1)] as const,
    );
    expect(told.length).toBeGreaterThan(1);
    // Where it is said to rise or fall it does.
    for (const [db, hz] of told) {
      const [atDb] = bankResponseDb(others, sampleRateHz, Float64Array.of(hz));
      expect(Math.sign(atDb!)).toBe(Math.sign(db));
      expect(Math.abs(atDb! - db)).toBeLessThan(3);
    }
  });
});

test.each([0.4, 0.5, 0.7])('a speaker that was moved stays one: %d m', (distanceM) => {
  const { faults } = verifyDesign({ design: designOf(), after: measuredWith(bank, { distanceM }) });
  expect(faults.map(({ type }) => type)).toContain('speakerMoved');
});

test('humps are the greatest about the mean, apart from each other, and nothing is made of a flat curve', () => {
  const frequencyHz = Float64Array.from({ length: 240 }, (_, i) => 20 * 2 ** (i / 24));
  const db = bankResponseDb([peak(100, 4), peak(1500, -7)], sampleRateHz, frequencyHz).map((v) => v + 12);
  const humps = humpsOf(frequencyHz, db);
  expect(humps.map(({ frequencyHz: hz }) => Math.round(12 * Math.log2(hz / 100)))).toEqual([47, 0]);
  expect(humps[0]!.db).toBeLessThan(-5);
  expect(humps[1]!.db).toBeGreaterThan(3);
  expect(humpsOf(frequencyHz, new Float64Array(240).fill(3))).toEqual([]);
});

test('of a hump the shoulders and the ripple beside it are not told', () => {
  const frequencyHz = Float64Array.from({ length: 240 }, (_, i) => 20 * 2 ** (i / 24));
  const hump = (hz: number, at: number, octaves: number) => Math.exp(-((Math.log2(hz / at) / octaves) ** 2));
  const differenceDb = frequencyHz.map((hz) => 6 * hump(hz, 6000, 0.7) - 0.8 * hump(hz, 700, 0.4));
  const found = humpsOf(frequencyHz, differenceDb);
  expect(found).toHaveLength(1);
  expect(found[0]!.frequencyHz / 6000).toBeCloseTo(1, 1);
  const alike = humpsOf(
    frequencyHz,
    frequencyHz.map((hz) => 6 * hump(hz, 6000, 0.7) - 4 * hump(hz, 700, 0.4)),
  );
  expect(alike).toHaveLength(2);
});
