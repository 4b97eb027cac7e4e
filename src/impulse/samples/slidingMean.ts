/**
 * Mean of `values` over windows whose edges are given for each point, from the running sum.
 * An edge outside the data is moved to its end.
 */
export function slidingMean(
  values: Float64Array,
  fromIndex: (i: number) => number,
  toIndex: (i: number) => number,
): Float64Array {
  const n = values.length;
  const sum = new Float64Array(n + 1);
  for (let i = 0; i < n; i++) sum[i + 1] = sum[i]! + values[i]!;
  return values.map((_, i) => {
    const from = Math.max(0, Math.min(n - 1, Math.floor(fromIndex(i))));
    const to = Math.max(from, Math.min(n - 1, Math.ceil(toIndex(i))));
    return (sum[to + 1]! - sum[from]!) / (to + 1 - from);
  });
}
