import { type PlaneGeometry, pathDifferenceM } from './imageSource.js';
import type { MeasuredLength } from './setup.js';

export interface MeasuredPlane {
  readonly r: MeasuredLength;
  readonly hs: MeasuredLength;
  readonly hm: MeasuredLength;
}

/** A closed interval, `from` ≤ `to`. */
export interface Interval {
  readonly from: number;
  readonly to: number;
}

/**
 * Path differences in metres that the tolerances of the three distances allow. L − r grows with hs and hm and
 * falls with r, so the ends of the interval lie in two corners. No distance is taken below 1 mm.
 */
export function pathDifferenceInterval({ r, hs, hm }: MeasuredPlane): Interval {
  const corner = (sign: 1 | -1): PlaneGeometry => ({
    r: reach(r, sign === 1 ? -1 : 1),
    hs: reach(hs, sign),
    hm: reach(hm, sign),
  });
  return { from: pathDifferenceM(corner(-1)), to: pathDifferenceM(corner(1)) };
}

/** Where the n-th cancellation (n ≥ 1) may lie in Hz, tolerances carried through: (2n−1)·c/(2·Δ). */
export function cancellationInterval(plane: MeasuredPlane, n: number, speedOfSoundMs: number): Interval {
  const { from, to } = pathDifferenceInterval(plane);
  const halfWaves = ((2 * n - 1) * speedOfSoundMs) / 2;
  return { from: halfWaves / to, to: halfWaves / from };
}

function reach(length: MeasuredLength, sign: 1 | -1): number {
  return Math.max(length.m + sign * length.toleranceM, 1e-3);
}
