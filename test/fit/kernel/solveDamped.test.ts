import fc from 'fast-check';
import { lusolve, type Matrix, matrix } from 'mathjs';
import { describe, expect, test } from 'vitest';
import { solveDamped } from '../../../src/fit/kernel/typescript/solveDamped.js';
import { SEED, uniform } from '../../filter/filterArbitrary.js';

/** AᵀA of a random A with more rows than columns: symmetric, positive definite. */
const normal = fc.integer({ min: 1, max: 9 }).chain((n) =>
  fc.record({
    n: fc.constant(n),
    a: fc.array(fc.array(uniform(-3, 3), { minLength: n, maxLength: n }), {
      minLength: n + 4,
      maxLength: n + 4,
    }),
    gradient: fc.array(uniform(-5, 5), { minLength: n, maxLength: n }),
    free: fc.subarray(
      Array.from({ length: n }, (_, i) => i),
      { minLength: 1 },
    ),
    damping: fc.constantFrom(1e-6, 1e-2, 1, 100),
  }),
);

describe('solveDamped', () => {
  test('solves what a general solver solves, and leaves what may not move at 0', () => {
    fc.assert(
      fc.property(normal, ({ n, a, gradient, free, damping }) => {
        const full = (r: number, c: number) => a.reduce((sum, row) => sum + row[r]! * row[c]!, 0);
        // Only the lower triangle is to be read.
        const lower = Float64Array.from({ length: n * n }, (_, k) => {
          const [r, c] = [Math.floor(k / n), k % n];
          return c <= r ? full(r, c) : Number.NaN;
        });
        const step = new Float64Array(n).fill(9);
        expect(solveDamped(lower, Float64Array.from(gradient), n, free, damping, step)).toBe(true);

        const damped = free.map((r) => free.map((c) => full(r, c) * (r === c ? 1 + damping : 1)));
        const solution = lusolve(
          matrix(damped),
          free.map((r) => -gradient[r]!),
        ) as Matrix;
        free.forEach((j, k) => {
          const expected = Number(solution.get([k, 0]));
          expect(Math.abs(step[j]! - expected)).toBeLessThan(1e-6 * (1 + Math.abs(expected)));
        });
        for (let j = 0; j < n; j++) if (!free.includes(j)) expect(step[j]).toBe(0);
      }),
      { ...SEED, numRuns: 100 },
    );
  });

  test('says so where the matrix is not positive definite', () => {
    const indefinite = Float64Array.of(1, 0, 5, 1);
    const step = new Float64Array(2);
    expect(solveDamped(indefinite, Float64Array.of(1, 1), 2, [0, 1], 0.01, step)).toBe(false);
  });
});
