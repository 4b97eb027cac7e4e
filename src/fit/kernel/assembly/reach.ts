import { amplitudeOf, bandAt, inverseT0Of, isLowShelf, isPeaking, qOf } from './band';
import { ascending } from './gather';
import { heldWarped, reachFrom, reachTo } from './memory';
import { numberAt, setIndex } from './pairs';
import { cutToReach } from './settings';

/** The pairs of points that a band reaches, by the formulas of typescript/reach.ts. */
export function findReach(i: i32): void {
  let from: i32 = 0;
  let to = ascending;
  if (cutToReach) {
    const band = bandAt(i);
    const inverseT0 = inverseT0Of(band);
    const A = amplitudeOf(band);
    const q = qOf(band);
    const wider = max(A, 1 / A);
    if (isPeaking(band)) {
      const span = wider / (q * 0.1);
      const x = span / 2 + sqrt((span * span) / 4 + 1);
      from = firstAbove(1 / (inverseT0 * x * x));
      to = firstAbove((x * x) / inverseT0);
    } else {
      const u = (wider * (1 + 1 / (q * q))) / 0.01;
      if (isLowShelf(band)) to = firstAbove(u / inverseT0);
      else from = firstAbove(1 / (u * inverseT0));
    }
  }
  setIndex(reachFrom, i, from & ~1);
  setIndex(reachTo, i, (to + 1) & ~1);
}

function firstAbove(value: f64): i32 {
  let low: i32 = 0;
  let high = ascending;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (numberAt(heldWarped, middle) < value) low = middle + 1;
    else high = middle;
  }
  return low;
}
