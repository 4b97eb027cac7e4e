import { expect, test } from 'vitest';
import { seededRandom } from '../../fixtures/simulate/seededRandom.js';
import { logGrid } from '../../src/curve/logGrid.js';
import { DELAYS_S, reflectionCorrelation } from '../../src/verify/reflectionCorrelation.js';

const grid = logGrid(60, 16000, 24);
const n = grid.length;

test('agrees with ripples drawn at random, cell by cell', () => {
  const delayS = 0.0032;
  const expected = reflectionCorrelation(grid, [delayS]);
  const random = seededRandom(5);
  const pairs = [100, 200, 700].flatMap((hz) =>
    [1, 1.03, 1.2, 1.6].map((ratio) => [nearest(hz), nearest(hz * ratio)] as const),
  );
  const sums = pairs.map(() => 0);
  const rounds = 20000;
  const mean = (i: number, tau: number, phase: number) => {
    // The mean of cos over the cell, in closed form.
    const half = Math.PI * tau * grid[i]! * (Math.LN2 / 24);
    return (Math.SQRT2 * Math.cos(2 * Math.PI * tau * grid[i]! + phase) * Math.sin(half)) / half;
  };
  for (let round = 0; round < rounds; round++) {
    // A gamma distribution of order four: the sum of four exponential ones.
    const tau = [0, 0, 0, 0].reduce((sum) => sum - (Math.log(1 - random()) * delayS) / 4, 0);
    const phase = 2 * Math.PI * random();
    pairs.forEach(([i, j], k) => {
      sums[k]! += mean(i, tau, phase) * mean(j, tau, phase);
    });
  }
  pairs.forEach(([i, j], k) => {
    const [a, b] = [Math.max(i, j), Math.min(i, j)];
    expect(Math.abs(sums[k]! / rounds - expected[a * n + b]!)).toBeLessThan(0.04);
  });
});

test('hardly moves a shape as wide as a filter, where many ripples lie within it', () => {
  const treble = logGrid(2000, 16000, 24);
  const correlation = reflectionCorrelation(treble, DELAYS_S);
  // Variance of the projection on a shape of unit length; scatter that is uncorrelated would have 1.
  const variance = (shape: Float64Array) => {
    const squared = shape.reduce((sum, v) => sum + v * v, 0);
    let sum = 0;
    for (let i = 0; i < shape.length; i++) {
      for (let j = 0; j <= i; j++) {
        const twice = i === j ? 1 : 2;
        sum += (twice * shape[i]! * shape[j]! * correlation[i * shape.length + j]!) / squared;
      }
    }
    return sum;
  };
  const wide = variance(treble.map((hz) => 1 / (1 + (Math.log2(hz / 5600) / 0.6) ** 2)));
  const fine = variance(treble.map((hz) => Math.cos(2 * Math.PI * hz * 0.0008)));
  expect(wide).toBeLessThan(0.25);
  expect(fine).toBeGreaterThan(0.5);
});

function nearest(hz: number): number {
  return grid.reduce((best, f, i) => (Math.abs(f - hz) < Math.abs(grid[best]! - hz) ? i : best), 0);
}
