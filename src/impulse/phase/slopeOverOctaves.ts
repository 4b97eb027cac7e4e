import { pow2 } from '../../elementary/exponential.js';

/**
 * Slope dy/dx at every point: that of the least-squares line through the points within ± half of `octaves`, and
 * at least through the two neighbours.
 *
 * @param x ascending and positive, n points
 */
export function slopeOverOctaves(x: Float64Array, y: Float64Array, octaves: number): Float64Array {
  const n = x.length;
  const slope = new Float64Array(n);
  if (n < 2) return slope;
  const reach = pow2(octaves / 2);
  // Sums are taken of y less its overall line, so that a long delay does not drown the rest in rounding.
  const trend = (y[n - 1]! - y[0]!) / (x[n - 1]! - x[0]!);
  const level = (i: number) => y[i]! - y[0]! - trend * (x[i]! - x[0]!);
  const sums = { x: new Float64Array(n + 1), y: new Float64Array(n + 1) };
  const products = { xx: new Float64Array(n + 1), xy: new Float64Array(n + 1) };
  for (let i = 0; i < n; i++) {
    sums.x[i + 1] = sums.x[i]! + x[i]!;
    sums.y[i + 1] = sums.y[i]! + level(i);
    products.xx[i + 1] = products.xx[i]! + x[i]! ** 2;
    products.xy[i + 1] = products.xy[i]! + x[i]! * level(i);
  }
  let from = 0;
  let to = 0;
  for (let i = 0; i < n; i++) {
    while (x[from]! < x[i]! / reach) from++;
    while (to < n && x[to]! <= x[i]! * reach) to++;
    const a = Math.max(0, Math.min(from, i - 1));
    const b = Math.min(n, Math.max(to, i + 2));
    const count = b - a;
    const meanX = (sums.x[b]! - sums.x[a]!) / count;
    const meanY = (sums.y[b]! - sums.y[a]!) / count;
    const spread = (products.xx[b]! - products.xx[a]!) / count - meanX * meanX;
    slope[i] = trend + ((products.xy[b]! - products.xy[a]!) / count - meanX * meanY) / spread;
  }
  return slope;
}
