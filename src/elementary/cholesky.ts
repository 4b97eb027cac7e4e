/**
 * Lower triangle L of a symmetric positive definite matrix, A = L·Lᵀ.
 *
 * @param a n×n, row by row; only the lower triangle is read
 * @returns n×n, row by row, zero above the diagonal
 */
export function cholesky(a: Float64Array, n: number): Float64Array {
  const l = new Float64Array(n * n);
  for (let j = 0; j < n; j++) {
    const row = j * n;
    const squared = lessProduct(l, a[row + j]!, row, row, j);
    if (!(squared > 0)) throw new RangeError(`the matrix is not positive definite (row ${j}: ${squared})`);
    const root = Math.sqrt(squared);
    l[row + j] = root;
    let i = j + 1;
    // Four rows at a time, whose sums need not wait for each other.
    for (; i + 3 < n; i += 4) {
      const at0 = i * n;
      const at1 = at0 + n;
      const at2 = at1 + n;
      const at3 = at2 + n;
      let sum0 = a[at0 + j]!;
      let sum1 = a[at1 + j]!;
      let sum2 = a[at2 + j]!;
      let sum3 = a[at3 + j]!;
      for (let k = 0; k < j; k++) {
        const factor = l[row + k]!;
        sum0 -= l[at0 + k]! * factor;
        sum1 -= l[at1 + k]! * factor;
        sum2 -= l[at2 + k]! * factor;
        sum3 -= l[at3 + k]! * factor;
      }
      l[at0 + j] = sum0 / root;
      l[at1 + j] = sum1 / root;
      l[at2 + j] = sum2 / root;
      l[at3 + j] = sum3 / root;
    }
    for (; i < n; i++) l[i * n + j] = lessProduct(l, a[i * n + j]!, i * n, row, j) / root;
  }
  return l;
}

/** `from`, less the product of the first `count` numbers of two rows. */
function lessProduct(l: Float64Array, from: number, one: number, other: number, count: number): number {
  let sum = from;
  for (let k = 0; k < count; k++) sum -= l[one + k]! * l[other + k]!;
  return sum;
}

/** Solves L·x = b. */
export function solveLower(l: Float64Array, b: ArrayLike<number>): Float64Array {
  const n = b.length;
  const x = new Float64Array(n);
  let i = 0;
  // Four rows at a time, whose sums need not wait for each other but for the last three.
  for (; i + 3 < n; i += 4) {
    const at0 = i * n;
    const at1 = at0 + n;
    const at2 = at1 + n;
    const at3 = at2 + n;
    let sum0 = b[i]!;
    let sum1 = b[i + 1]!;
    let sum2 = b[i + 2]!;
    let sum3 = b[i + 3]!;
    for (let k = 0; k < i; k++) {
      const known = x[k]!;
      sum0 -= l[at0 + k]! * known;
      sum1 -= l[at1 + k]! * known;
      sum2 -= l[at2 + k]! * known;
      sum3 -= l[at3 + k]! * known;
    }
    const x0 = sum0 / l[at0 + i]!;
    const x1 = (sum1 - l[at1 + i]! * x0) / l[at1 + i + 1]!;
    const x2 = (sum2 - l[at2 + i]! * x0 - l[at2 + i + 1]! * x1) / l[at2 + i + 2]!;
    x[i] = x0;
    x[i + 1] = x1;
    x[i + 2] = x2;
    x[i + 3] = (sum3 - l[at3 + i]! * x0 - l[at3 + i + 1]! * x1 - l[at3 + i + 2]! * x2) / l[at3 + i + 3]!;
  }
  for (; i < n; i++) {
    let sum = b[i]!;
    for (let k = 0; k < i; k++) sum -= l[i * n + k]! * x[k]!;
    x[i] = sum / l[i * n + i]!;
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
