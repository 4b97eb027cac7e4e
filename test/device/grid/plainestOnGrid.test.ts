import { expect, test } from 'vitest';
import { deviceLimits } from '../../../src/device/deviceLimits.js';
import { createBandTable, type GridBand } from '../../../src/device/grid/bandTable.js';
import { gridChoices } from '../../../src/device/grid/gridChoices.js';
import { createGridCost } from '../../../src/device/grid/gridCost.js';
import type { GridBank, GridSpace } from '../../../src/device/grid/gridDescent.js';
import { plainestOnGrid } from '../../../src/device/grid/plainestOnGrid.js';
import type { DeviceBounds } from '../../../src/device/stored/deviceBank.js';
import { fitGrid } from '../../../src/fit/problem/fitGrid.js';
import { LIMITS, problemOf } from '../../fit/problems.js';
import { coarse } from '../deviceCases.js';

const problem = problemOf({
  deviationDb: (hz) => hz.map(() => 0),
  limits: deviceLimits({ ...LIMITS, maxBands: 2, types: ['peaking'] }, coarse, 48000),
});
const bounds: DeviceBounds = { device: coarse, sampleRateHz: 48000, limits: problem.limits };
const choices = gridChoices(bounds);
const cost = createGridCost(fitGrid(problem, 2), {
  levelDb: undefined,
  maxLevelLossDb: problem.limits.maxLevelLossDb,
  penalty: 200,
  levelRestraint: 0,
});
const space: GridSpace = {
  table: createBandTable(bounds, choices, cost),
  cost,
  maxBands: 2,
  moves: [],
  isAllowed: () => true,
};
const near = (list: ArrayLike<number>, x: number) =>
  Array.from(list).reduce((best, y, i) => (Math.abs(y - x) < Math.abs(list[best]! - x) ? i : best), 0);
const peak = (hz: number, gainDb: number, q: number): GridBand => ({
  type: 'peaking',
  frequency: near(choices.frequencyHz, hz),
  gain: near(choices.gainDb, gainDb),
  q: near(choices.q, q),
});
/** A cut at 5640 Hz, which a third-octave device lacks, by its two neighbours: side by side, or one against the other. */
const PLAIN = [peak(5040, -2.5, 2.4), peak(6350, -3.5, 2.2)];
const OPPOSED = [peak(4000, 5.5, 0.9), peak(5040, -8, 0.9)];
const chosen = (plainLeaves: number): readonly GridBand[] => {
  const banks: GridBank[] = [
    { bands: OPPOSED, value: 0.25 },
    { bands: PLAIN, value: 0.25 * plainLeaves ** 2 },
  ];
  const forwards = plainestOnGrid(space, bounds, banks).bands;
  expect(plainestOnGrid(space, bounds, [...banks].reverse()).bands).toBe(forwards);
  return forwards;
};

test('bands that do not work against each other are taken where they leave at most 2 % more', () => {
  expect(chosen(0.9)).toBe(PLAIN);
  expect(chosen(1.015)).toBe(PLAIN);
  expect(chosen(1.025)).toBe(OPPOSED);
});
