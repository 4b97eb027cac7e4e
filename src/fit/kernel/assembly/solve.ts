import { factor, free, gradient, normalMatrix, step } from './memory';
import { add, both, indexAt, mul, numberAt, PAIR, pairAt, setNumber, sumOf } from './pairs';

/**
 * Solves (M + damping · diag M) x = −g over the k free numbers by Cholesky, in the order of typescript/solveDamped.ts;
 * false where the damped matrix is not positive definite.
 */
export function solve(n: i32, k: i32, damping: f64): bool {
  const rowLength = (k + 1) & ~1;
  const rowBytes = (<usize>rowLength) << 3;
  const y = factor + <usize>k * rowBytes;
  for (let r = 0; r < k; r++) {
    const from = normalMatrix + ((<usize>(indexAt(free, r) * n)) << 3);
    const row = factor + <usize>r * rowBytes;
    let c: i32 = 0;
    for (; c + 3 < r; c += 4) fourColumns(from, row, c, rowBytes);
    for (; c < r; c++) {
      const other = factor + <usize>c * rowBytes;
      let sum = numberAt(from, indexAt(free, c));
      for (let j = 0; j < c; j++) sum -= numberAt(row, j) * numberAt(other, j);
      setNumber(row, c, sum * numberAt(other, c));
    }
    const diagonal = numberAt(from, indexAt(free, r));
    let sum = diagonal + damping * diagonal + 1e-12;
    let right = -numberAt(gradient, indexAt(free, r));
    for (let j = 0; j < r; j++) {
      const l = numberAt(row, j);
      sum -= l * l;
      right -= l * numberAt(y, j);
    }
    if (!(sum > 0)) return false;
    const inverse = 1 / sqrt(sum);
    setNumber(row, r, inverse);
    setNumber(y, r, right * inverse);
  }
  for (let j = 0; j < n; j++) setNumber(step, j, 0);
  for (let r = k - 1; r >= 0; r--) {
    const row = factor + <usize>r * rowBytes;
    const x = numberAt(y, r) * numberAt(row, r);
    setNumber(step, indexAt(free, r), x);
    for (let j = 0; j < r; j++) setNumber(y, j, numberAt(y, j) - numberAt(row, j) * x);
  }
  return true;
}

/** Four columns of a row of the factor at a time: their sums do not wait for each other. */
function fourColumns(from: usize, row: usize, c: i32, rowBytes: usize): void {
  const row0 = factor + <usize>c * rowBytes;
  const row1 = row0 + rowBytes;
  const row2 = row1 + rowBytes;
  const row3 = row2 + rowBytes;
  let v0 = both(0);
  let v1 = both(0);
  let v2 = both(0);
  let v3 = both(0);
  const end = (<usize>c) << 3;
  for (let o: usize = 0; o < end; o += PAIR) {
    const l = pairAt(row + o);
    v0 = add(v0, mul(l, pairAt(row0 + o)));
    v1 = add(v1, mul(l, pairAt(row1 + o)));
    v2 = add(v2, mul(l, pairAt(row2 + o)));
    v3 = add(v3, mul(l, pairAt(row3 + o)));
  }
  const s0 = numberAt(from, indexAt(free, c)) - sumOf(v0);
  const s1 = numberAt(from, indexAt(free, c + 1)) - sumOf(v1);
  const s2 = numberAt(from, indexAt(free, c + 2)) - sumOf(v2);
  const s3 = numberAt(from, indexAt(free, c + 3)) - sumOf(v3);
  const l0 = s0 * numberAt(row0, c);
  const l1 = (s1 - l0 * numberAt(row1, c)) * numberAt(row1, c + 1);
  const l2 = (s2 - l0 * numberAt(row2, c) - l1 * numberAt(row2, c + 1)) * numberAt(row2, c + 2);
  const l3 =
    (s3 - l0 * numberAt(row3, c) - l1 * numberAt(row3, c + 1) - l2 * numberAt(row3, c + 2)) *
    numberAt(row3, c + 3);
  setNumber(row, c, l0);
  setNumber(row, c + 1, l1);
  setNumber(row, c + 2, l2);
  setNumber(row, c + 3, l3);
}
