import { describe, expect, it } from 'vitest';
import { gaussian, seededRandom } from '../../fixtures/simulate/seededRandom.js';
import { logGrid } from '../../src/curve/logGrid.js';
import { resampleToGrid } from '../../src/curve/resampleToGrid.js';
import { curveOf, greatestDifference, linearPoints, logPoints, speakerDb } from './curveSamples.js';

const grid = logGrid(20, 20_000);

describe('resampleToGrid', () => {
  it('leaves a curve that is on the grid already as it is', () => {
    const random = seededRandom(1);
    const curve = curveOf(grid, (f) => speakerDb(f) + gaussian(random));
    expect(greatestDifference(resampleToGrid(curve, grid).levelDb, curve.levelDb)).toBeLessThan(1e-9);
  });

  it('covers only the span of the data', () => {
    const curve = curveOf(linearPoints(101, 1999, 13), speakerDb);
    const { frequencyHz } = resampleToGrid(curve, grid);
    expect(frequencyHz[0]).toBeGreaterThanOrEqual(101);
    expect(frequencyHz.at(-1)).toBeLessThanOrEqual(1999);
    expect(frequencyHz).toHaveLength(logGrid(101, curve.frequencyHz.at(-1)!).length);
  });

  it.each([
    ['linear, 1 Hz', linearPoints(20, 20_000, 1)],
    ['linear, 40 Hz', linearPoints(40, 20_000, 40)],
    ['log, 6 an octave', logPoints(20, 20_000, 6)],
    ['log, 70 an octave', logPoints(20, 20_000, 70)],
    ['log, 400 an octave', logPoints(20, 20_000, 400)],
  ])('is exact for a constant: %s', (_, points) => {
    const resampled = resampleToGrid(
      curveOf(points, () => -12.5),
      grid,
    );
    for (const level of resampled.levelDb) expect(level).toBeCloseTo(-12.5, 9);
  });

  it('averages power in a cell: fast alternation between two levels gives the mean of their powers', () => {
    // Straight in dB from +10 to −10 and back: mean power (10 − 0.1)/ln(100), whatever the cell.
    let i = 0;
    const curve = curveOf(logPoints(100, 10_000, 48 * 40), () => (i++ % 2 === 0 ? 10 : -10));
    const expected = 10 * Math.log10((10 - 0.1) / Math.log(100));
    const inner = resampleToGrid(curve, logGrid(110, 9000)).levelDb;
    for (const level of inner) expect(level).toBeCloseTo(expected, 1);
  });

  it('does not depend on where dense points happen to lie', () => {
    const a = resampleToGrid(curveOf(linearPoints(200, 20_000, 0.5), speakerDb), logGrid(400, 18_000));
    const b = resampleToGrid(curveOf(linearPoints(200.13, 20_000, 0.37), speakerDb), logGrid(400, 18_000));
    expect(greatestDifference(a.levelDb, b.levelDb)).toBeLessThan(1e-3);
  });

  it.each([
    ['24 an octave against 96', logPoints(20, 20_000, 24), logPoints(20, 20_000, 96)],
    ['48 an octave against 480', logPoints(20, 20_000, 48), logPoints(20, 20_000, 480)],
    ['64 an octave against 128', logPoints(20, 20_000, 64), logPoints(20, 20_000, 128)],
    ['5 Hz against 1 Hz', linearPoints(100, 20_000, 5), linearPoints(100, 20_000, 1)],
  ])('finer sampling of the same curve changes nothing by 0.05 dB: %s', (_, coarse, fine) => {
    const common = logGrid(150, 15_000);
    const a = resampleToGrid(curveOf(coarse, speakerDb), common);
    const b = resampleToGrid(curveOf(fine, speakerDb), common);
    expect(greatestDifference(a.levelDb, b.levelDb)).toBeLessThan(0.05);
  });

  it('passes from interpolation to averaging without a step', () => {
    // 2 Hz apart: about one point a grid cell at 140 Hz, two at 280 Hz.
    const curve = curveOf(linearPoints(40, 2000, 2), speakerDb);
    const { frequencyHz, levelDb } = resampleToGrid(curve, logGrid(80, 1000));
    const error = levelDb.map((l, i) => l - speakerDb(frequencyHz[i]!));
    for (let i = 1; i < error.length; i++) expect(Math.abs(error[i]! - error[i - 1]!)).toBeLessThan(0.02);
  });

  it('keeps a delay: its phase is a straight line over frequency', () => {
    const points = linearPoints(100, 10_000, 37);
    const curve = { ...curveOf(points, speakerDb), phaseRad: points.map((f) => -2 * Math.PI * f * 0.003) };
    const { frequencyHz, phaseRad } = resampleToGrid(curve, grid);
    frequencyHz.forEach((f, i) => {
      expect(phaseRad![i]).toBeCloseTo(-2 * Math.PI * f * 0.003, 9);
    });
  });

  it('reaches the end of the data where that is a grid point but for rounding', () => {
    const points = logPoints(1000, 2000, 17).map((f) => f * (1 + 1e-12));
    const { frequencyHz } = resampleToGrid(curveOf(points, speakerDb), logGrid(500, 4000));
    expect(frequencyHz[0]).toBe(1000);
  });
});
