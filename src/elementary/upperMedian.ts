/** Median of some numbers, of the two in the middle the greater; 0 where there are none. */
export function upperMedian(values: ArrayLike<number>): number {
  return Float64Array.from(values).sort()[values.length >> 1] ?? 0;
}
