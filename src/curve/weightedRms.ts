/** √(Σ w·v² / Σ w); 0 where all weights are 0. */
export function weightedRms(values: Float64Array, weights: Float64Array): number {
  let sum = 0;
  let total = 0;
  for (let i = 0; i < values.length; i++) {
    sum += weights[i]! * values[i]! ** 2;
    total += weights[i]!;
  }
  return total > 0 ? Math.sqrt(sum / total) : 0;
}
