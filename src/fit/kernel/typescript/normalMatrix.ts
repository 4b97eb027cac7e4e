/**
 * Adds to the 3 × 3 block of JᵀJ between two bands what the points from `from` up to `to` give, and those from `ascending`
 * on; even and odd points apart. Nine sums at a time keep the processor busy; one at a time would wait.
 *
 * @param count length of a row of the Jacobian
 * @param j, i the bands' first rows
 */
export function addBlock(
  jacobian: Float64Array,
  count: number,
  matrix: Float64Array,
  n: number,
  j: number,
  i: number,
  from: number,
  to: number,
  ascending: number,
): void {
  for (const lane of [0, 1])
    addEverySecond(jacobian, count, matrix, n, j, i, from + lane, to, ascending + lane);
}

function addEverySecond(
  jacobian: Float64Array,
  count: number,
  matrix: Float64Array,
  n: number,
  j: number,
  i: number,
  from: number,
  to: number,
  beyond: number,
): void {
  const [a, d] = [j * count, i * count];
  const b = a + count;
  const c = b + count;
  const e = d + count;
  const f = e + count;
  let s00 = 0;
  let s01 = 0;
  let s02 = 0;
  let s10 = 0;
  let s11 = 0;
  let s12 = 0;
  let s20 = 0;
  let s21 = 0;
  let s22 = 0;
  let p = from;
  let end = to;
  for (let part = 0; part < 2; part++) {
    for (; p < end; p += 2) {
      const a0 = jacobian[a + p]!;
      const a1 = jacobian[b + p]!;
      const a2 = jacobian[c + p]!;
      const b0 = jacobian[d + p]!;
      const b1 = jacobian[e + p]!;
      const b2 = jacobian[f + p]!;
      s00 += a0 * b0;
      s01 += a0 * b1;
      s02 += a0 * b2;
      s10 += a1 * b0;
      s11 += a1 * b1;
      s12 += a1 * b2;
      s20 += a2 * b0;
      s21 += a2 * b1;
      s22 += a2 * b2;
    }
    p = beyond;
    end = count;
  }
  const row = j * n + i;
  matrix[row]! += s00;
  matrix[row + 1]! += s01;
  matrix[row + 2]! += s02;
  matrix[row + n]! += s10;
  matrix[row + n + 1]! += s11;
  matrix[row + n + 2]! += s12;
  matrix[row + 2 * n]! += s20;
  matrix[row + 2 * n + 1]! += s21;
  matrix[row + 2 * n + 2]! += s22;
}

/** Adds scale · row rowᵀ to the lower triangle. */
export function addRow(matrix: Float64Array, row: Float64Array, n: number, scale: number): void {
  for (let j = 0; j < n; j++) {
    const sj = scale * row[j]!;
    const at = j * n;
    for (let i = 0; i <= j; i++) matrix[at + i]! += sj * row[i]!;
  }
}
