import { amplitudeOf, bandAt, inverseT0Of, isLowShelf, isPeaking, qOf } from './band';
import { eqDb, points, warped } from './memory';
import { add, both, div, mul, PAIR, pairAt, sub } from './pairs';

/** The bank's |H|² at every point, into `eqDb`. Formulas and order are those of `bankValues`. */
export function bankPower(count: i32): void {
  const end = (<usize>points) << 3;
  for (let o: usize = 0; o < end; o += PAIR) v128.store(eqDb + o, both(1));
  let waiting: usize = 0;
  for (let i = 0; i < count; i++) {
    const band = bandAt(i);
    if (!isPeaking(band)) multiplyByShelf(band, end);
    else if (waiting === 0) waiting = band;
    else {
      multiplyByPeaks(waiting, band, end);
      waiting = 0;
    }
  }
  if (waiting !== 0) multiplyByPeak(waiting, end);
}

function multiplyByPeak(band: usize, end: usize): void {
  const A = amplitudeOf(band);
  const q = qOf(band);
  const inverseT0 = both(inverseT0Of(band));
  const a = both((A * A) / (q * q));
  const d = both(1 / (A * A * q * q));
  for (let o: usize = 0; o < end; o += PAIR) {
    const u = mul(pairAt(warped + o), inverseT0);
    const v = sub(both(1), u);
    const c = mul(v, v);
    v128.store(eqDb + o, mul(pairAt(eqDb + o), div(add(c, mul(a, u)), add(c, mul(d, u)))));
  }
}

function multiplyByPeaks(one: usize, two: usize, end: usize): void {
  const A1 = amplitudeOf(one);
  const q1 = qOf(one);
  const A2 = amplitudeOf(two);
  const q2 = qOf(two);
  const t1 = both(inverseT0Of(one));
  const t2 = both(inverseT0Of(two));
  const a1 = both((A1 * A1) / (q1 * q1));
  const d1 = both(1 / (A1 * A1 * q1 * q1));
  const a2 = both((A2 * A2) / (q2 * q2));
  const d2 = both(1 / (A2 * A2 * q2 * q2));
  for (let o: usize = 0; o < end; o += PAIR) {
    const w = pairAt(warped + o);
    const u1 = mul(w, t1);
    const u2 = mul(w, t2);
    const v1 = sub(both(1), u1);
    const v2 = sub(both(1), u2);
    const c1 = mul(v1, v1);
    const c2 = mul(v2, v2);
    const above = mul(add(c1, mul(a1, u1)), add(c2, mul(a2, u2)));
    const below = mul(add(c1, mul(d1, u1)), add(c2, mul(d2, u2)));
    v128.store(eqDb + o, mul(pairAt(eqDb + o), div(above, below)));
  }
}

function multiplyByShelf(band: usize, end: usize): void {
  const amplitude = amplitudeOf(band);
  const q = qOf(band);
  const inverseT0 = both(inverseT0Of(band));
  const b = both(amplitude / (q * q));
  const A = both(amplitude);
  const A2 = both(amplitude * amplitude);
  const low = isLowShelf(band);
  for (let o: usize = 0; o < end; o += PAIR) {
    const u = mul(pairAt(warped + o), inverseT0);
    const x = sub(A, u);
    const y = sub(both(1), mul(A, u));
    const bu = mul(b, u);
    const toward = add(mul(x, x), bu);
    const away = add(mul(y, y), bu);
    const power = low ? div(mul(A2, toward), away) : div(mul(A2, away), toward);
    v128.store(eqDb + o, mul(pairAt(eqDb + o), power));
  }
}
