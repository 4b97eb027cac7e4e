/**
 * Indices that put `keys` into ascending order, equal keys in the order in which they stand.
 *
 * Bottom-up merge sort over runs; a typed array's own `sort` with a comparator takes some ten times as long for
 * millions of rows.
 */
export function ascendingOrder(keys: Float64Array): Uint32Array {
  const n = keys.length;
  let order = new Uint32Array(n).map((_, i) => i);
  let merged = new Uint32Array(n);
  for (let width = 1; width < n; width *= 2) {
    for (let start = 0; start < n; start += 2 * width) {
      const middle = Math.min(start + width, n);
      const end = Math.min(start + 2 * width, n);
      let left = start;
      let right = middle;
      for (let k = start; k < end; k++) {
        const fromLeft = left < middle && (right >= end || keys[order[left]!]! <= keys[order[right]!]!);
        merged[k] = fromLeft ? order[left++]! : order[right++]!;
      }
    }
    [order, merged] = [merged, order];
  }
  return order;
}
