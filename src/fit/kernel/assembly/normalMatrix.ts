import { ascending } from './gather';
import {
  gradient,
  inLevel,
  inMean,
  jacobian,
  levelJacobian,
  meanJacobian,
  normalMatrix,
  pull,
  rowBytes,
} from './memory';
import { add, both, mul, numberAt, PAIR, pairAt, setNumber, sumOf } from './pairs';

/** Jᵀr of three rows, and what they count in the level and in the mean. */
export function addSums(j: i32, from: i32, to: i32, count: i32): void {
  const rows = jacobian + <usize>j * rowBytes;
  let ga = both(0);
  let gb = both(0);
  let gc = both(0);
  let la = both(0);
  let lb = both(0);
  let lc = both(0);
  let ma = both(0);
  let mb = both(0);
  let mc = both(0);
  const end = (<usize>to) << 3;
  for (let o = (<usize>from) << 3; o < end; o += PAIR) {
    const a = pairAt(rows + o);
    const b = pairAt(rows + rowBytes + o);
    const c = pairAt(rows + 2 * rowBytes + o);
    const r = pairAt(pull + o);
    ga = add(ga, mul(a, r));
    gb = add(gb, mul(b, r));
    gc = add(gc, mul(c, r));
    const l = pairAt(inLevel + o);
    la = add(la, mul(a, l));
    lb = add(lb, mul(b, l));
    lc = add(lc, mul(c, l));
    const m = pairAt(inMean + o);
    ma = add(ma, mul(a, m));
    mb = add(mb, mul(b, m));
    mc = add(mc, mul(c, m));
  }
  const last = (<usize>count) << 3;
  for (let o = (<usize>ascending) << 3; o < last; o += PAIR) {
    const r = pairAt(pull + o);
    ga = add(ga, mul(pairAt(rows + o), r));
    gb = add(gb, mul(pairAt(rows + rowBytes + o), r));
    gc = add(gc, mul(pairAt(rows + 2 * rowBytes + o), r));
  }
  setThree(gradient, j, ga, gb, gc);
  setThree(levelJacobian, j, la, lb, lc);
  setThree(meanJacobian, j, ma, mb, mc);
}

/** The 3 × 3 block of JᵀJ between two bands, whose common points go from `from` up to `to`. */
export function setBlock(n: i32, j: i32, i: i32, from: i32, to: i32, count: i32): void {
  const A = jacobian + <usize>j * rowBytes;
  const B = jacobian + <usize>i * rowBytes;
  let s00 = both(0);
  let s01 = both(0);
  let s02 = both(0);
  let s10 = both(0);
  let s11 = both(0);
  let s12 = both(0);
  let s20 = both(0);
  let s21 = both(0);
  let s22 = both(0);
  let o = (<usize>from) << 3;
  let end = (<usize>to) << 3;
  for (let part = 0; part < 2; part++) {
    for (; o < end; o += PAIR) {
      const b0 = pairAt(B + o);
      const b1 = pairAt(B + rowBytes + o);
      const b2 = pairAt(B + 2 * rowBytes + o);
      const a0 = pairAt(A + o);
      s00 = add(s00, mul(a0, b0));
      s01 = add(s01, mul(a0, b1));
      s02 = add(s02, mul(a0, b2));
      const a1 = pairAt(A + rowBytes + o);
      s10 = add(s10, mul(a1, b0));
      s11 = add(s11, mul(a1, b1));
      s12 = add(s12, mul(a1, b2));
      const a2 = pairAt(A + 2 * rowBytes + o);
      s20 = add(s20, mul(a2, b0));
      s21 = add(s21, mul(a2, b1));
      s22 = add(s22, mul(a2, b2));
    }
    o = (<usize>ascending) << 3;
    end = (<usize>count) << 3;
  }
  const at = j * n + i;
  setThree(normalMatrix, at, s00, s01, s02);
  setThree(normalMatrix, at + n, s10, s11, s12);
  setThree(normalMatrix, at + 2 * n, s20, s21, s22);
}

function setThree(array: usize, at: i32, a: v128, b: v128, c: v128): void {
  setNumber(array, at, sumOf(a));
  setNumber(array, at + 1, sumOf(b));
  setNumber(array, at + 2, sumOf(c));
}

/** Adds `scale` · row · rowᵀ to the lower triangle. */
export function addRow(row: usize, n: i32, scale: f64): void {
  for (let j = 0; j < n; j++) {
    const scaled = scale * numberAt(row, j);
    const at = normalMatrix + ((<usize>(j * n)) << 3);
    const end = (<usize>(j + 1)) << 3;
    let o: usize = 0;
    for (; o + 8 < end; o += PAIR)
      v128.store(at + o, add(pairAt(at + o), mul(both(scaled), pairAt(row + o))));
    if (o < end) store<f64>(at + o, load<f64>(at + o) + scaled * load<f64>(row + o));
  }
}
