import type { Spectrum } from './fft.js';

/** Below the strongest bin by this much, a bin counts as a zero that the transform has hit. */
const zero = 1e-12;

/**
 * ln|X| at bins 0 to size/2, finite everywhere.
 *
 * A zero of the response that falls on a bin has no logarithm; the bin then stands for the mean of the logarithm
 * around it, which for a simple zero is ln(2π) below its neighbours (the product of 2·sin(πk/N) over k = 1 … N−1
 * is N, while the integral of its logarithm vanishes).
 */
export function logMagnitudeOf({ size, bins }: Spectrum): Float64Array {
  const magnitude = Float64Array.from({ length: size / 2 + 1 }, (_, k) =>
    Math.hypot(bins[2 * k]!, bins[2 * k + 1]!),
  );
  const top = magnitude.reduce((most, v) => Math.max(most, v), 0);
  const least = top * zero || Number.MIN_VALUE;
  return magnitude.map((v, k) => {
    if (v > least) return Math.log(v);
    const neighbour = Math.min(magnitude[k - 1] ?? top, magnitude[k + 1] ?? top);
    return Math.log(Math.max(least, neighbour / (2 * Math.PI)));
  });
}
