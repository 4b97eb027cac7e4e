import { describe, expect, test } from 'vitest';
import { gaussian, seededRandom } from '../../fixtures/simulate/seededRandom.js';
import type { Curve } from '../../src/curve/curve.js';
import { logGrid } from '../../src/curve/logGrid.js';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import type { Design } from '../../src/schema/design.js';
import { verifyDesign } from '../../src/verify/verifyDesign.js';
import { bank, designOf, sampleRateHz } from './smallRoom.js';

/**
 * A point source before the wall behind it, over a table and beside a wall (planes at 0 of each axis): first image
 * sources (Allen & Berkley 1979), each weaker towards the treble (simulated).
 */
const speaker = [0.35, 0.6, 0.25] as const;
const microphone = [1.35, 0.7, 0.35] as const;
type Place = readonly [number, number, number];
const gridHz = logGrid(20, 20000);
const moved = (place: Place, by: Place): Place => [place[0] + by[0], place[1] + by[1], place[2] + by[2]];
const distance = (a: Place, b: Place) => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
const images = ([x, y, z]: Place): Place[] => [
  [-x, y, z],
  [x, -y, z],
  [x, y, -z],
];

function roomDb(hz: number, from: Place, to: Place): number {
  const direct = distance(from, to);
  const wave = (2 * Math.PI * hz) / 343;
  let re = 1;
  let im = 0;
  for (const image of images(from)) {
    const path = distance(image, to);
    const share = ((0.6 / Math.hypot(1, hz / 1500)) * direct) / path;
    re += share * Math.cos(wave * (path - direct));
    im -= share * Math.sin(wave * (path - direct));
  }
  return 82 + 10 * Math.log10(re * re + im * im) - 10 * Math.log10(1 + (60 / hz) ** 4);
}

function measured(filters: typeof bank, seed: number, from: Place, to: Place): Curve {
  const random = seededRandom(seed);
  const eqDb = bankResponseDb(filters, sampleRateHz, gridHz);
  return {
    frequencyHz: gridHz,
    levelDb: gridHz.map((hz, i) => roomDb(hz, from, to) + eqDb[i]! + 0.3 * gaussian(random)),
  };
}

const before = measured([], 1, speaker, microphone);
const design: Design = {
  ...designOf(),
  curves: { ...designOf().curves, measuredDb: Array.from(before.levelDb) },
};

describe('a few centimetres', () => {
  test.each<[string, Place]>([
    ['7 cm from the wall behind', [0.07, 0, 0]],
    ['7 cm towards the wall behind', [-0.07, 0, 0]],
    ['8 cm aside', [0, 0.08, 0]],
    ['6 cm up', [0, 0, 0.06]],
  ])('of the speaker, %s, are a move and no filter in a wrong place', (_, by) => {
    const after = measured(bank, 2, moved(speaker, by), microphone);
    expect(verifyDesign({ design, after }).faults.map(({ type }) => type)).toEqual(['speakerMoved']);
  });

  test.each<[string, Place]>([
    ['away', [0.02, 0, 0]],
    ['aside', [0, 0.02, 0]],
    ['up', [0, 0, 0.02]],
    ['at a slant', [-0.012, 0.011, 0.012]],
  ])('of the microphone, two, %s, are none', (_, by) => {
    const after = measured(bank, 3, speaker, moved(microphone, by));
    expect(verifyDesign({ design, after }).faults).toEqual([]);
  });

  test('of the speaker, seven, and filters that do nothing are both named', () => {
    const after = measured([], 5, moved(speaker, [0.07, 0, 0]), microphone);
    const { faults } = verifyDesign({ design, after });
    expect(faults.map(({ type }) => type).sort()).toEqual(['bypassed', 'speakerMoved']);
    const move = faults.find(({ type }) => type === 'speakerMoved')!;
    expect(move.fix).not.toContain('whether the filters are right');
  });

  test('of the microphone, two, do not hide a filter left out', () => {
    const after = measured(bank.slice(1), 4, speaker, moved(microphone, [0.012, -0.012, 0.01]));
    const { faults } = verifyDesign({ design, after });
    expect(faults.map(({ type, filter }) => [type, filter])).toEqual([['filterMissing', 0]]);
  });
});
