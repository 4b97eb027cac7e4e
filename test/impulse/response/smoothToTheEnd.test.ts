import { expect, test } from 'vitest';
import { logGrid } from '../../../src/curve/logGrid.js';
import { smoothOctave } from '../../../src/curve/smoothOctave.js';
import { smoothToTheEnd } from '../../../src/impulse/response/smoothToTheEnd.js';

const frequencyHz = logGrid(20, 22_000, 96);
const sloping = {
  frequencyHz,
  levelDb: frequencyHz.map((hz) => -6 * Math.log2(hz / 1000) + Math.sin(hz / 900)),
};

test('is the common smoothing but within half a window of the upper end', () => {
  const common = smoothOctave(sloping, 1 / 3);
  const toTheEnd = smoothToTheEnd(sloping, 1 / 3);
  frequencyHz.forEach((hz, i) => {
    if (hz < 22_000 * 2 ** (-1 / 6) * 0.999) expect(toTheEnd.levelDb[i]).toBe(common.levelDb[i]);
  });
  expect(toTheEnd.levelDb.at(-1)).not.toBe(common.levelDb.at(-1));
});

test('at the very end a slope is bent by about a quarter of the width times the slope', () => {
  const slope = { frequencyHz, levelDb: frequencyHz.map((hz) => -6 * Math.log2(hz / 1000)) };
  const bent = smoothToTheEnd(slope, 1 / 3).levelDb.at(-1)! - slope.levelDb.at(-1)!;
  expect(Math.abs(bent - (6 * (1 / 3)) / 4)).toBeLessThan(0.05);
});

test('width 0 gives the curve itself', () => {
  expect(smoothToTheEnd(sloping, 0)).toBe(sloping);
});
