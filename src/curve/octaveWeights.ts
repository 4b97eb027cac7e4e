import { log } from '../elementary/logarithm.js';

/**
 * Weights by which every octave counts the same: the trapezoid rule over log frequency, scaled to sum 1.
 *
 * @param frequencyHz ascending, n ≥ 1
 */
export function octaveWeights(frequencyHz: Float64Array): Float64Array {
  const n = frequencyHz.length;
  if (n < 2) return new Float64Array(n).fill(1);
  const octaves = log(frequencyHz[n - 1]! / frequencyHz[0]!);
  return Float64Array.from(frequencyHz, (_, i) => {
    const below = frequencyHz[Math.max(0, i - 1)]!;
    const above = frequencyHz[Math.min(n - 1, i + 1)]!;
    return log(above / below) / (2 * octaves);
  });
}
