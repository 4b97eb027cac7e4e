import { describe, expect, it } from 'vitest';
import { alignLevel } from '../../src/curve/alignLevel.js';
import { averagePositions } from '../../src/curve/averagePositions.js';
import { logGrid } from '../../src/curve/logGrid.js';
import { InputError } from '../../src/inputError.js';
import { curveOf, greatestDifference, linearPoints, logPoints, speakerDb } from './curveSamples.js';

const grid = logGrid(50, 5000);

describe('averagePositions', () => {
  it('averages powers: 80 dB and 70 dB give 77.40 dB', () => {
    const { curve } = averagePositions([curveOf(grid, () => 80), curveOf(grid, () => 70)]);
    for (const level of curve.levelDb) expect(level).toBeCloseTo(10 * Math.log10((1e8 + 1e7) / 2), 9);
  });

  it('one position is its own average and has no spread', () => {
    const curve = curveOf(grid, speakerDb);
    const result = averagePositions([curve]);
    expect(result.curve.levelDb).toEqual(curve.levelDb);
    expect(result.spreadDb.every((s) => s === 0)).toBe(true);
  });

  it('a difference of level between positions is no spread, one of shape is', () => {
    const shape = (f: number) => 2 * Math.sin(4 * Math.PI * Math.log2(f / 50));
    const quiet = averagePositions([curveOf(grid, speakerDb), curveOf(grid, (f) => speakerDb(f) - 7)]);
    expect(Math.max(...quiet.spreadDb)).toBeLessThan(1e-9);

    const bent = averagePositions([
      curveOf(grid, (f) => speakerDb(f) + shape(f)),
      curveOf(grid, (f) => speakerDb(f) - shape(f) - 7),
    ]);
    // Two values ±s about their mean have a standard deviation of s·√2 (n − 1 = 1). The means over whole
    // waves are zero but for the odd end.
    bent.spreadDb.forEach((s, i) => {
      expect(s).toBeCloseTo(Math.SQRT2 * Math.abs(shape(grid[i]!)), 0);
    });
  });

  it('takes the span that all curves share, and their own points where these agree', () => {
    const longer = curveOf(logGrid(20, 20_000), speakerDb);
    const shorter = curveOf(grid, speakerDb);
    const { curve } = averagePositions([longer, shorter]);
    expect(greatestDifference(curve.frequencyHz, grid)).toBeLessThan(1e-9);
    expect(greatestDifference(curve.levelDb, shorter.levelDb)).toBeLessThan(1e-9);
  });

  it('puts curves with different points on 48 points an octave', () => {
    const { curve } = averagePositions([
      curveOf(linearPoints(40, 5200, 1), speakerDb),
      curveOf(logPoints(45, 5100, 96), speakerDb),
    ]);
    curve.frequencyHz.forEach((f, i) => {
      expect(48 * Math.log2(f / 1000)).toBeCloseTo(Math.round(48 * Math.log2(f / 1000)), 6);
      expect(Math.abs(curve.levelDb[i]! - speakerDb(f))).toBeLessThan(0.1);
    });
  });

  it('refuses curves without a common span, and none at all', () => {
    const low = curveOf(logGrid(20, 200), speakerDb);
    const high = curveOf(logGrid(300, 3000), speakerDb);
    expect(() => averagePositions([low, high])).toThrow(InputError);
    expect(() => averagePositions([low, high])).toThrow(/20\.3 to 198 Hz; 302 to 3000 Hz/);
    expect(() => averagePositions([])).toThrow(InputError);
  });
});

describe('alignLevel', () => {
  it('takes the mean difference over the range away and tells how much it was', () => {
    const reference = curveOf(grid, speakerDb);
    const moved = curveOf(linearPoints(30, 6000, 2), (f) => speakerDb(f) + 4.5 + (f > 2000 ? 9 : 0));
    const { curve, shiftDb } = alignLevel(moved, reference, { fromHz: 200, toHz: 1800 });
    expect(shiftDb).toBeCloseTo(-4.5, 2);
    expect(
      greatestDifference(
        curve.levelDb,
        moved.levelDb.map((l) => l + shiftDb),
      ),
    ).toBeLessThan(1e-12);
  });

  it('weighs octaves alike on linear points', () => {
    const reference = curveOf(grid, () => 0);
    const tilted = curveOf(linearPoints(100, 1600, 1), (f) => 3 * Math.log2(f / 400));
    expect(alignLevel(tilted, reference, { fromHz: 100, toHz: 1600 }).shiftDb).toBeCloseTo(0, 4);
  });

  it('refuses curves that have nothing in common in the range', () => {
    const low = curveOf(logGrid(20, 200), speakerDb);
    expect(() => alignLevel(low, curveOf(grid, speakerDb), { fromHz: 300, toHz: 900 })).toThrow(InputError);
  });
});
