import { expect, test } from 'vitest';
import { insideMaximumDb } from '../../../src/device/grid/insideMaximumDb.js';
import type { Filter } from '../../../src/filter/filter.js';
import { coarse } from '../deviceCases.js';

const boost: Filter = { type: 'peaking', frequencyHz: 1000, gainDb: 6, q: 1 };
const cut: Filter = { ...boost, gainDb: -8 };

test('between the bands a boost counts in full where the cut comes after it, and not at all before', () => {
  expect(Math.abs(insideMaximumDb([boost, cut], coarse, 48000) - 6)).toBeLessThan(1e-6);
  expect(Math.abs(insideMaximumDb([cut, boost], coarse, 48000))).toBeLessThan(1e-6);
});
