/**
 * Lower triangle L of a symmetric positive definite matrix, A = L·Lᵀ.
 *
 * @param a n×n, row by row; only the lower triangle is read
 * @returns n×n, row by row, zero above the diagonal
 */
export function cholesky(a: Float64Array, n: number): Float64Array {
  const l = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = a[i * n + j]!;
      for (let k = 0; k < j; k++) sum -= l[i * n + k]! * l[j * n + k]!;
      if (i > j) l[i * n + j] = sum / l[j * n + j]!;
      else if (sum > 0) l[i * n + i] = Math.sqrt(sum);
      else throw new RangeError(`the matrix is not positive definite (row ${i}: ${sum})`);
    }
  }
  return l;
}

/** Solves L·x = b. */
export function solveLower(l: Float64Array, b: ArrayLike<number>): Float64Array {
  const n = b.length;
  const x = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    let sum = b[i]!;
    const row = i * n;
    for (let k = 0; k < i; k++) sum -= l[row + k]! * x[k]!;
    x[i] = sum / l[row + i]!;
  }
  return x;
}

/** Solves Lᵀ·x = b. */
export function solveLowerTransposed(l: Float64Array, b: ArrayLike<number>): Float64Array {
  const n = b.length;
  const x = Float64Array.from(b);
  for (let i = n - 1; i >= 0; i--) {
    const value = x[i]! / l[i * n + i]!;
    x[i] = value;
    for (let k = 0; k < i; k++) x[k]! -= l[i * n + k]! * value;
  }
  return x;
}

/** Inverse of A = L·Lᵀ, n×n. */
export function inverseFromCholesky(l: Float64Array, n: number): Float64Array {
  const inverse = new Float64Array(n * n);
  const unit = new Float64Array(n);
  for (let j = 0; j < n; j++) {
    unit.fill(0);
    unit[j] = 1;
    inverse.set(solveLowerTransposed(l, solveLower(l, unit)), j * n);
  }
  return inverse;
}
