import { log } from '../../elementary/logarithm.js';
import { hypot } from '../../elementary/power.js';
import type { Spectrum } from '../samples/fft.js';

/** Below the strongest bin by this much is rounding. */
const rounding = 1e-15;

/**
 * ln|X| at bins 0 to size/2, finite everywhere.
 *
 * Where a zero of the response falls on a bin, or almost, its logarithm says too much: in place of the mean over the
 * bin's width stands the depth of the zero. Such a bin is held at what a zero of order m right on it should count
 * for, m·ln(2π) below its neighbour (the product of 2·sin(πk/N) over k = 1 … N−1 is N, while the integral of its
 * logarithm vanishes). The order is told by the next two bins: a high pass has one of two or more at 0 Hz.
 */
export function logMagnitudeOf({ size, bins }: Spectrum): Float64Array {
  const last = size / 2;
  const magnitude = Float64Array.from({ length: last + 1 }, (_, k) => hypot(bins[2 * k]!, bins[2 * k + 1]!));
  const top = magnitude.reduce((most, v) => Math.max(most, v), 0);
  const least = top * rounding || Number.MIN_VALUE;
  const levels = magnitude.map((v) => log(Math.max(v, least)));
  const held = (k: number, side: 1 | -1): number => {
    const near = levels[k + side];
    const far = levels[k + 2 * side];
    if (near === undefined || far === undefined) return Number.POSITIVE_INFINITY;
    const order = Math.max(1, Math.round((far - near) / Math.LN2));
    return near - order * log(2 * Math.PI);
  };
  return levels.map((v, k) => {
    const lowest = Math.min(held(k, 1), held(k, -1));
    return v < lowest && Number.isFinite(lowest) ? lowest : v;
  });
}
