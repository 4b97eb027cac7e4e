import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { KERNEL_BYTES } from '../../../src/fit/kernel/kernelBytes.js';
import { typescriptEngine } from '../../../src/fit/kernel/typescriptEngine.js';
import { webAssemblyEngine } from '../../../src/fit/kernel/webAssemblyEngine.js';
import { createObjective, type Objective } from '../../../src/fit/objective/objective.js';
import { cellGrid, fitGrid } from '../../../src/fit/problem/fitGrid.js';
import { SEED } from '../../filter/filterArbitrary.js';
import { pressedProblem, problemOf } from '../problems.js';
import { compileKernel } from './compileKernel.js';

/** Both engines of one objective. */
function twins(objective: Objective) {
  const quick = webAssemblyEngine(objective);
  if (!quick) throw new Error('Node offers WebAssembly');
  return [quick, typescriptEngine(objective)] as const;
}

const pressed = fc.record({
  asked: pressedProblem,
  perCell: fc.integer({ min: 1, max: 5 }),
  cutToReach: fc.boolean(),
  held: fc.nat(5),
  damping: fc.constantFrom(1e-9, 1e-2, 10),
});

describe('the engines', () => {
  test('give the same digits in everything a refinement asks for', () => {
    let [zones, odd, beyond] = [0, 0, 0];
    fc.assert(
      fc.property(pressed, ({ asked: { problem, bands, options }, perCell, cutToReach, held, damping }) => {
        const n = bands.values.length;
        const grid = cellGrid(problem, perCell);
        const objective = createObjective(grid, n / 3, {
          ...options,
          maxLevelLossDb: problem.limits.maxLevelLossDb,
          cutToReach,
          ...(problem.levelDb !== undefined && { levelDb: problem.levelDb }),
        });
        objective.backgroundDb.forEach((_, p) => {
          objective.backgroundDb[p] = Math.sin(p);
        });
        zones += grid.zones.length;
        odd += grid.errorPoints % 2;
        const [quick, plain] = twins(objective);

        const value = quick.evaluate(bands);
        const state = [objective.eqDb.slice(), objective.residual.slice()];
        expect(plain.evaluate(bands)).toBe(value);
        expect([objective.eqDb, objective.residual]).toEqual(state);
        expect(quick.value(bands)).toBe(value);
        const { errorPoints, capDb } = grid;
        if (objective.eqDb.some((eq, p) => p >= errorPoints && eq > capDb[p]!)) beyond++;

        const count = Math.max(1, n - held);
        for (const engine of [quick, plain]) {
          engine.linearize(bands);
          for (let j = 0; j < count; j++) engine.free[j] = j + n - count;
        }
        expect(quick.gradient).toEqual(plain.gradient);
        // A charge is added on the diagonal.
        const diagonal = ({ normalMatrix }: typeof quick) =>
          Array.from({ length: n }, (_, j) => normalMatrix[j * n + j]);
        expect(diagonal(quick)).toEqual(diagonal(plain));
        const solved = quick.solve(n, count, damping);
        expect(plain.solve(n, count, damping)).toBe(solved);
        if (solved) expect(quick.step).toEqual(plain.step);
      }),
      { ...SEED, numRuns: 300 },
    );
    // What the two do in different ways must have been there to be compared.
    expect(zones).toBeGreaterThan(20);
    expect(odd).toBeGreaterThan(20);
    expect(beyond).toBeGreaterThan(20);
  });

  test('hold one objective after another, of whatever size, and come back to the first', () => {
    const problem = problemOf({
      deviationDb: (hz) => hz.map((f) => 5 * Math.sin(2 * Math.log(f))),
      zones: [{ fromHz: 900, toHz: 1100 }],
    });
    const options = { penalty: 15, restraint: 1e-5, levelRestraint: 5e-4, maxLevelLossDb: 3 };
    const bank = (n: number) => ({
      types: new Uint8Array(n),
      values: Float64Array.from({ length: 3 * n }, (_, j) => [5 + (4 * j) / (3 * n), 2, 0.5][j % 3]!),
    });
    const few = createObjective(cellGrid(problem, 4), 2, options);
    const many = createObjective(fitGrid(problem, 1), 40, options);
    for (const [objective, n] of [
      [few, 2],
      [many, 40],
      [few, 1],
      [many, 17],
      [few, 2],
    ] as const) {
      const [quick, plain] = twins(objective);
      expect(quick.value(bank(n))).toBe(plain.value(bank(n)));
    }
  });
});

test('the bytes are those that the compiler makes of the source', async () => {
  expect(Array.from(await compileKernel())).toEqual(Array.from(KERNEL_BYTES));
});
