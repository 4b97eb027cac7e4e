import { lowerIndex } from './lowerIndex.js';

/**
 * Piecewise cubic through all points that never overshoots them (PCHIP): between two points the result stays
 * between their values.
 *
 * Slopes: weighted harmonic mean of the neighbouring secants, zero at a local extremum; one-sided three-point
 * formula at the ends, limited to keep the shape. Source: F. N. Fritsch, R. E. Carlson, SIAM J. Numer. Anal. 17
 * (1980) 238–246, with the mean of F. N. Fritsch, J. Butland, SIAM J. Sci. Stat. Comput. 5 (1984) 300–304.
 *
 * @param x strictly ascending, n ≥ 2
 * @param y n values
 * @returns a function of x; outside the points the end value is held
 */
export function monotoneInterpolation(x: Float64Array, y: Float64Array): (at: number) => number {
  const n = x.length;
  const slope = monotoneSlopes(x, y);
  return (at) => {
    if (at <= x[0]!) return y[0]!;
    if (at >= x[n - 1]!) return y[n - 1]!;
    const i = lowerIndex(x, at);
    const h = x[i + 1]! - x[i]!;
    const t = (at - x[i]!) / h;
    const s = 1 - t;
    return (
      s * s * (1 + 2 * t) * y[i]! +
      t * t * (1 + 2 * s) * y[i + 1]! +
      h * s * t * (s * slope[i]! - t * slope[i + 1]!)
    );
  };
}

function monotoneSlopes(x: Float64Array, y: Float64Array): Float64Array {
  const n = x.length;
  const width = (i: number) => x[i + 1]! - x[i]!;
  const secant = (i: number) => (y[i + 1]! - y[i]!) / width(i);
  const slope = new Float64Array(n);
  if (n === 2) return slope.fill(secant(0));
  for (let i = 1; i < n - 1; i++) {
    const left = secant(i - 1);
    const right = secant(i);
    if (left * right <= 0) continue;
    const wLeft = 2 * width(i) + width(i - 1);
    const wRight = width(i) + 2 * width(i - 1);
    slope[i] = (wLeft + wRight) / (wLeft / left + wRight / right);
  }
  slope[0] = endSlope(width(0), width(1), secant(0), secant(1));
  slope[n - 1] = endSlope(width(n - 2), width(n - 3), secant(n - 2), secant(n - 3));
  return slope;
}

function endSlope(width: number, nextWidth: number, secant: number, nextSecant: number): number {
  const slope = ((2 * width + nextWidth) * secant - width * nextSecant) / (width + nextWidth);
  if (slope * secant <= 0) return 0;
  return secant * nextSecant < 0 && Math.abs(slope) > 3 * Math.abs(secant) ? 3 * secant : slope;
}
