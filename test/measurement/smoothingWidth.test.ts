import { expect, test } from 'vitest';
import type { Curve } from '../../src/curve/curve.js';
import { logGrid } from '../../src/curve/logGrid.js';
import { resampleToGrid } from '../../src/curve/resampleToGrid.js';
import { smoothOctave } from '../../src/curve/smoothOctave.js';
import { looksSmoothed } from '../../src/measurement/looksSmoothed.js';
import { smoothingWidth } from '../../src/measurement/smoothingWidth.js';
import { curveOf, speakerDb } from '../curve/curveSamples.js';
import { lateEchoes } from '../evaluate/lateEchoes.js';
import { pathRoom } from '../evaluate/pathRooms.js';
import { simulatedRoom } from '../evaluate/simulatedRooms.js';

const seeds = Array.from({ length: 8 }, (_, i) => 830_000 + i);
const placed: readonly Curve[] = seeds.flatMap((seed) => [
  simulatedRoom(seed, { surroundings: 'room', tapeErrorPercent: 4 }).input.curve,
  lateEchoes(seed, 'level').input.curve,
  pathRoom(seed, { geometryError: 0.03, geometryBias: 0, surfaces: 'random' }).input.curve,
]);
const calm: readonly Curve[] = seeds.flatMap((seed) => [
  simulatedRoom(seed, { placement: 'anechoic' }).input.curve,
  pathRoom(seed, { geometryError: 0, geometryBias: 0, surfaces: 'none' }).input.curve,
]);
const shares = (curves: readonly Curve[], width: number) =>
  curves.filter((curve) => Math.abs((smoothingWidth(curve) ?? 0) - width) < 1e-9).length / curves.length;

test.each([2, 3])('a mean over 1/%i octave shows in most placed speakers (simulated)', (parts) => {
  const curves = placed.map((curve) => smoothOctave(curve, 1 / parts));
  expect(shares(curves, 1 / parts)).toBeGreaterThan(0.8);
});

test.each([
  ['not smoothed', 0],
  ['smoothed over 1/24 octave', 1 / 24],
  ['smoothed over 1/12 octave', 1 / 12],
])('none is seen in curves %s, calm ones among them (simulated)', (_, width) => {
  const found = [...placed, ...calm].map((curve) => smoothingWidth(smoothOctave(curve, width)));
  expect(found.filter((each) => each !== undefined)).toEqual([]);
});

test('it shows on a grid of 24 points an octave and with levels to one decimal, not on one of 12', () => {
  const on = (perOctave: number) =>
    placed.map((curve) => {
      const { frequencyHz, levelDb } = resampleToGrid(
        smoothOctave(curve, 1 / 3),
        logGrid(20, 20_000, perOctave),
      );
      return { frequencyHz, levelDb: levelDb.map((db) => Math.round(db * 10) / 10) };
    });
  expect(shares(on(24), 1 / 3)).toBeGreaterThan(0.7);
  expect(shares(on(12), 0)).toBe(1);
});

test('comments say it where the curve does not', () => {
  const curve = curveOf(logGrid(20, 20_000, 48), speakerDb);
  const widths = ['Smoothing: 1/3 octave', '1/12 oct smoothed', 'smoothing 1 / 6'].map((c) =>
    smoothingWidth(curve, ['a', c]),
  );
  expect(widths).toEqual([1 / 3, 1 / 12, 1 / 6]);
  const none = [
    'Smoothing: none',
    'unsmoothed',
    'smoothed',
    'gain 1/3',
    'no smoothing (not 1/3)',
    'smoothed on 1/3/2026',
  ];
  expect(none.map((c) => smoothingWidth(curve, [c]))).toEqual(none.map(() => undefined));
});

test('the warning names the width that shows', () => {
  const seen = placed.map((curve) => smoothOctave(curve, 1 / 3)).find((c) => smoothingWidth(c) === 1 / 3)!;
  const [warning] = looksSmoothed(seen, [], 'desk.txt');
  expect(warning?.code).toBe('measurement-smoothed');
  expect(warning?.message).toMatch(/^desk\.txt .*a mean over 1\/3 octave/);
});
