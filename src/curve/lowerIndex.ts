/** Index of the last element of the ascending `values` that is ≤ `x`; −1 where all are greater. */
export function lowerIndex(values: Float64Array, x: number): number {
  let low = 0;
  let high = values.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (values[middle]! <= x) low = middle + 1;
    else high = middle;
  }
  return low - 1;
}
