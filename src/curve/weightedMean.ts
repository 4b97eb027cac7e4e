/** Σ w·v / Σ w; 0 where all weights are 0. */
export function weightedMean(values: Float64Array, weights: Float64Array): number {
  let sum = 0;
  let total = 0;
  for (let i = 0; i < values.length; i++) {
    sum += weights[i]! * values[i]!;
    total += weights[i]!;
  }
  return total > 0 ? sum / total : 0;
}
