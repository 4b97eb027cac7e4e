/** Weighted straight-line fit: the value at `at` and the slope there. */
export function weightedLine(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  weight: ArrayLike<number>,
  from: number,
  to: number,
  at: number,
): { readonly value: number; readonly slope: number } {
  let w0 = 0;
  let wx = 0;
  let wy = 0;
  let wxx = 0;
  let wxy = 0;
  for (let i = from; i < to; i++) {
    const w = weight[i]!;
    const u = x[i]! - at;
    w0 += w;
    wx += w * u;
    wy += w * y[i]!;
    wxx += w * u * u;
    wxy += w * u * y[i]!;
  }
  const determinant = w0 * wxx - wx * wx;
  if (!(determinant > 1e-12 * w0 * w0)) return { value: w0 > 0 ? wy / w0 : 0, slope: 0 };
  return { value: (wxx * wy - wx * wxy) / determinant, slope: (w0 * wxy - wx * wy) / determinant };
}
