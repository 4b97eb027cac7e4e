/**
 * Solves (M + damping · diag M) x = −g over the free parameters by Cholesky.
 *
 * @param matrix lower triangle of a symmetric matrix, row length n
 * @param gradient n numbers
 * @param free indices that may move; the others stay at 0
 * @param step result, n numbers
 * @returns false where the damped matrix is not positive definite
 */
export function solveDamped(
  matrix: Float64Array,
  gradient: Float64Array,
  n: number,
  free: readonly number[],
  damping: number,
  step: Float64Array,
): boolean {
  const k = free.length;
  const L = new Float64Array(k * k);
  const y = new Float64Array(k);
  for (let r = 0; r < k; r++) {
    const row = free[r]! * n;
    for (let c = 0; c <= r; c++) {
      let sum = matrix[row + free[c]!]!;
      if (c === r) sum += damping * sum + 1e-12;
      for (let j = 0; j < c; j++) sum -= L[r * k + j]! * L[c * k + j]!;
      if (c === r) {
        if (!(sum > 0)) return false;
        L[r * k + r] = Math.sqrt(sum);
      } else {
        L[r * k + c] = sum / L[c * k + c]!;
      }
    }
  }
  for (let r = 0; r < k; r++) {
    let sum = -gradient[free[r]!]!;
    for (let j = 0; j < r; j++) sum -= L[r * k + j]! * y[j]!;
    y[r] = sum / L[r * k + r]!;
  }
  step.fill(0, 0, n);
  for (let r = k - 1; r >= 0; r--) {
    let sum = y[r]!;
    for (let j = r + 1; j < k; j++) sum -= L[j * k + r]! * step[free[j]!]!;
    step[free[r]!] = sum / L[r * k + r]!;
  }
  return true;
}
