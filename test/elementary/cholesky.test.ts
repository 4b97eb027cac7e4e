import { inv, type Matrix, matrix, multiply, transpose } from 'mathjs';
import { expect, test } from 'vitest';
import {
  cholesky,
  inverseFromCholesky,
  solveLower,
  solveLowerTransposed,
} from '../../src/elementary/cholesky.js';
import { seededRandom } from '../../src/fit/seededRandom.js';

/** B·Bᵀ + 1/10, positive definite. */
function positiveDefinite(n: number, seed: number): Matrix {
  const random = seededRandom(seed);
  const b = matrix(Array.from({ length: n }, () => Array.from({ length: n }, () => random() - 0.5)));
  const product = multiply(b, transpose(b));
  return product.map((value, [row, column]: number[]) => value + (row === column ? 0.1 : 0));
}

const rows = (m: Matrix) => Float64Array.from((m.toArray() as number[][]).flat());

test('inverse and solutions are those of a general library', () => {
  for (const n of [1, 2, 3, 4, 5, 7, 12, 14]) {
    const a = positiveDefinite(n, 40 + n);
    const lower = cholesky(rows(a), n);
    const inverse = rows(inv(a));
    inverseFromCholesky(lower, n).forEach((value, i) => {
      expect(value).toBeCloseTo(inverse[i]!, 9);
    });
    const right = Array.from({ length: n }, (_, i) => i - 1.5);
    const solved = solveLowerTransposed(lower, solveLower(lower, right));
    const expected = multiply(inv(a), right).toArray() as number[];
    solved.forEach((value, i) => {
      expect(value).toBeCloseTo(expected[i]!, 9);
    });
  }
});

test('a matrix that is not positive definite is refused with its row', () => {
  expect(() => cholesky(Float64Array.of(1, 2, 2, 1), 2)).toThrow(/not positive definite \(row 1/);
});
