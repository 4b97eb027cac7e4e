import fc from 'fast-check';
import { expect, test } from 'vitest';
import { logGrid } from '../../src/curve/logGrid.js';
import { KNOTS_HZ, PARAMETERS_PER_PATH, pathGrid, sumPaths } from '../../src/diagnosis/paths/pathModel.js';

const grid = pathGrid(logGrid(60, 2500, 12), 343.2);
const path = fc
  .tuple(
    fc.double({ min: Math.log(0.15), max: Math.log(4), noNaN: true }),
    fc.array(fc.double({ min: Math.log(0.03), max: Math.log(0.5), noNaN: true }), {
      minLength: KNOTS_HZ.length,
      maxLength: KNOTS_HZ.length,
    }),
  )
  .map(([length, strengths]) => [length, ...strengths]);

test('derivatives of the reflected level agree with central differences', () => {
  fc.assert(
    fc.property(path, path, (a, b) => {
      const parameters = Float64Array.from([...a, ...b]);
      const { levelDb, derivatives } = sumPaths(grid, parameters);
      const columns = derivatives();
      const step = 1e-5;
      for (let k = 0; k < 2 * PARAMETERS_PER_PATH; k++) {
        const shifted = (by: number) =>
          sumPaths(
            grid,
            parameters.map((v, j) => (j === k ? v + by : v)),
          ).levelDb;
        const [up, down] = [shifted(step), shifted(-step)];
        for (let i = 0; i < levelDb.length; i++) {
          const numeric = (up[i]! - down[i]!) / (2 * step);
          // Second-order error of the difference, and rounding of levels to about 1e-13 dB over the step.
          expect(Math.abs(columns[k]![i]! - numeric)).toBeLessThan(1e-3 * (1 + Math.abs(numeric)));
        }
      }
    }),
    { seed: 7, numRuns: 40 },
  );
});

test('with two planes at right angles the strengths count in the pair as well', () => {
  fc.assert(
    fc.property(path, path, (a, b) => {
      const parameters = Float64Array.from([...a, ...b]);
      const pairs = [{ first: 0, second: 1, directM: 1.2 }];
      const columns = sumPaths(grid, parameters, pairs).derivatives();
      const step = 1e-5;
      // Lengths are left out: that spreading changes with them is left out of the derivative on purpose.
      for (const k of [1, 2, 3, 4, 6, 7, 8, 9]) {
        const shifted = (by: number) =>
          sumPaths(
            grid,
            parameters.map((v, j) => (j === k ? v + by : v)),
            pairs,
          ).levelDb;
        const [up, down] = [shifted(step), shifted(-step)];
        up.forEach((u, i) => {
          const numeric = (u - down[i]!) / (2 * step);
          expect(Math.abs(columns[k]![i]! - numeric)).toBeLessThan(1e-3 * (1 + Math.abs(numeric)));
        });
      }
    }),
    { seed: 11, numRuns: 30 },
  );
});
