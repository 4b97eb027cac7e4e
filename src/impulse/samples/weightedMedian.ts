/** The value below which half of the weight lies; 0 for an empty list. */
export function weightedMedian(
  samples: readonly { readonly value: number; readonly weight: number }[],
): number {
  const ascending = [...samples].sort((a, b) => a.value - b.value);
  const half = ascending.reduce((sum, { weight }) => sum + weight, 0) / 2;
  let sum = 0;
  for (const { value, weight } of ascending) {
    sum += weight;
    if (sum >= half) return value;
  }
  return 0;
}
