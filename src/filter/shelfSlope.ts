import { cosh, sinh } from '../elementary/exponential.js';

/**
 * Slope S of a shelf and its Q, by the W3C Group Note "Audio EQ Cookbook": 1/Q = √((A + 1/A)(1/S − 1) + 2),
 * A = 10^(gainDb/40). S = 1 is Q = 1/√2 at every gain; above it the shelf overshoots, and below S = 1 it is
 * slacker. At gain 0 this is S = 2Q².
 */
export function qFromShelfSlope(slope: number, gainDb: number): number {
  return 1 / Math.sqrt(sumOfA(gainDb) * (1 / slope - 1) + 2);
}

/** The inverse. Every Q has a slope; as Q grows S approaches `steepestShelfSlope`. */
export function shelfSlopeFromQ(q: number, gainDb: number): number {
  return 1 / (1 + (1 / (q * q) - 2) / sumOfA(gainDb));
}

/** Slopes at and above this belong to no filter: (A + 1/A)/(A + 1/A − 2), infinite at 0 dB. */
export function steepestShelfSlope(gainDb: number): number {
  // A + 1/A − 2 = 4 sinh²(ln A / 2), without cancellation at small gains.
  return sumOfA(gainDb) / (4 * sinh((gainDb * Math.LN10) / 80) ** 2);
}

const sumOfA = (gainDb: number): number => 2 * cosh((gainDb * Math.LN10) / 40);
