import { amplitudeOf, dLnT0Of, inverseT0Of, isLowShelf, isPeaking, qOf } from './band';
import { DB_PER_NEPER_OF_POWER } from './constants';
import { heldWarped, root, rowBytes } from './memory';
import { add, both, div, mul, PAIR, pairAt, sub } from './pairs';

/**
 * A band's derivatives by ln f, gain and ln Q, each times a point's `root`, at the points from `from` up to `to`; formulas
 * and order are those of `bandJacobian`.
 */
export function bandRows(band: usize, rows: usize, from: i32, to: i32): void {
  if (isPeaking(band)) peakRows(band, rows, from, to);
  else shelfRows(band, rows, from, to);
}

function peakRows(band: usize, rows: usize, from: i32, to: i32): void {
  const A = amplitudeOf(band);
  const q = qOf(band);
  const inverseT0 = both(inverseT0Of(band));
  const a = both((A * A) / (q * q));
  const d = both(1 / (A * A * q * q));
  const scaleF = both(-DB_PER_NEPER_OF_POWER * dLnT0Of(band));
  const scaleQ = both(-2 * DB_PER_NEPER_OF_POWER);
  const end = (<usize>to) << 3;
  for (let o = (<usize>from) << 3; o < end; o += PAIR) {
    const u = mul(pairAt(heldWarped + o), inverseT0);
    const v = sub(both(1), u);
    const c = mul(v, v);
    const au = mul(a, u);
    const du = mul(d, u);
    const N = add(c, au);
    const D = add(c, du);
    const inverse = div(pairAt(root + o), mul(N, D));
    const perN = mul(D, inverse);
    const perD = mul(N, inverse);
    const aN = mul(au, perN);
    const dD = mul(du, perD);
    const between = sub(aN, dD);
    const byU = add(mul(mul(both(2), mul(v, u)), sub(perD, perN)), between);
    v128.store(rows + o, mul(scaleF, byU));
    v128.store(rows + rowBytes + o, mul(both(0.5), add(aN, dD)));
    v128.store(rows + 2 * rowBytes + o, mul(scaleQ, between));
  }
}

function shelfRows(band: usize, rows: usize, from: i32, to: i32): void {
  const amplitude = amplitudeOf(band);
  const q = qOf(band);
  const inverseT0 = both(inverseT0Of(band));
  const A = both(amplitude);
  const b = both(amplitude / (q * q));
  const sign = isLowShelf(band) ? 1.0 : -1.0;
  const scaleF = both(sign * (-DB_PER_NEPER_OF_POWER * dLnT0Of(band)));
  const scaleQ = both(sign * (2 * DB_PER_NEPER_OF_POWER));
  const end = (<usize>to) << 3;
  for (let o = (<usize>from) << 3; o < end; o += PAIR) {
    const u = mul(pairAt(heldWarped + o), inverseT0);
    const x = sub(A, u);
    const y = sub(both(1), mul(A, u));
    const bu = mul(b, u);
    const toward = add(mul(x, x), bu);
    const away = add(mul(y, y), bu);
    const w = pairAt(root + o);
    const inverse = div(w, mul(toward, away));
    const perToward = mul(away, inverse);
    const perAway = mul(toward, inverse);
    const byU = sub(
      mul(sub(bu, mul(both(2), mul(x, u))), perToward),
      mul(sub(bu, mul(both(2), mul(A, mul(y, u)))), perAway),
    );
    const byA = sub(
      mul(add(bu, mul(both(2), mul(x, A))), perToward),
      mul(sub(bu, mul(both(2), mul(u, mul(y, A)))), perAway),
    );
    v128.store(rows + o, mul(scaleF, byU));
    v128.store(rows + rowBytes + o, mul(both(0.25), add(mul(both(2), w), mul(both(sign), byA))));
    v128.store(rows + 2 * rowBytes + o, mul(scaleQ, mul(bu, sub(perAway, perToward))));
  }
}
