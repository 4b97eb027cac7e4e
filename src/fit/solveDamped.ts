/**
 * Solves (M + damping · diag M) x = −g over the free parameters by Cholesky.
 *
 * @param matrix lower triangle of a symmetric matrix, row length n
 * @param gradient n numbers
 * @param free indices that may move, ascending; the others stay at 0
 * @param scratch at least k² + k numbers for k free ones
 * @param step result, n numbers
 * @returns false where the damped matrix is not positive definite
 */
export function solveDamped(
  matrix: Float64Array,
  gradient: Float64Array,
  n: number,
  free: ArrayLike<number>,
  damping: number,
  step: Float64Array,
  k = free.length,
  scratch: Float64Array = new Float64Array(k * k + k),
): boolean {
  const L = scratch;
  const y = scratch.subarray(k * k, k * k + k);
  for (let r = 0; r < k; r++) {
    const row = free[r]! * n;
    const at = r * k;
    for (let c = 0; c < r; c++) {
      const other = c * k;
      let sum = matrix[row + free[c]!]!;
      for (let j = 0; j < c; j++) sum -= L[at + j]! * L[other + j]!;
      // The diagonal holds its inverse.
      L[at + c] = sum * L[other + c]!;
    }
    const diagonal = matrix[row + free[r]!]!;
    let sum = diagonal + damping * diagonal + 1e-12;
    let right = -gradient[free[r]!]!;
    for (let j = 0; j < r; j++) {
      const l = L[at + j]!;
      sum -= l * l;
      right -= l * y[j]!;
    }
    if (!(sum > 0)) return false;
    const inverse = 1 / Math.sqrt(sum);
    L[at + r] = inverse;
    y[r] = right * inverse;
  }
  step.fill(0, 0, n);
  for (let r = k - 1; r >= 0; r--) {
    const x = y[r]! * L[r * k + r]!;
    step[free[r]!] = x;
    for (let j = 0; j < r; j++) y[j]! -= L[r * k + j]! * x;
  }
  return true;
}
