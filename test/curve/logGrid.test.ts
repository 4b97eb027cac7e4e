import { describe, expect, it } from 'vitest';
import { logGrid } from '../../src/curve/logGrid.js';

describe('logGrid', () => {
  it('holds 1000·2^(k/48) Hz for every k inside the bounds, and only these', () => {
    const grid = logGrid(20, 20_000);
    const k = grid.map((f) => 48 * Math.log2(f / 1000));
    k.forEach((v, i) => {
      expect(v).toBeCloseTo(Math.round(v), 9);
      if (i > 0) expect(v - k[i - 1]!).toBeCloseTo(1, 9);
    });
    expect(grid[0]).toBeGreaterThanOrEqual(20);
    expect(grid[0]! / 2 ** (1 / 48)).toBeLessThan(20);
    expect(grid.at(-1)).toBeLessThanOrEqual(20_000);
    expect(grid.at(-1)! * 2 ** (1 / 48)).toBeGreaterThan(20_000);
  });

  it('takes in a bound that lies on the grid, whichever way it was computed', () => {
    const low = 1000 / 2 ** (7 / 48);
    const high = Math.exp(Math.log(1000) + (9 / 48) * Math.LN2);
    expect(logGrid(low, high)).toHaveLength(17);
    expect(logGrid(500, 2000, 3)).toHaveLength(7);
  });

  it('is empty where no point lies between the bounds', () => {
    expect(logGrid(1001, 1002)).toHaveLength(0);
  });
});
