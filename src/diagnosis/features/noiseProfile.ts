import { upperMedian } from '../../elementary/upperMedian.js';

/** How rough a curve is at each point, apart from anything as wide as a speaker's or a near surface's features. */
export interface NoiseProfile {
  /** From one point to the next: standard deviation of each point by itself. */
  readonly pointDb: Float64Array;
  /** Ripple over about a twentieth of an octave, as late reflections leave. */
  readonly rippleDb: Float64Array;
}

const WINDOW_OCTAVES = 0.75;
const RIPPLE_OCTAVES = 0.07;
/** A normal distribution's median absolute value, in standard deviations. */
const MEDIAN_OF_NORMAL = 0.6745;
const LEAST_POINT_DB = 0.3;
const LEAST_RIPPLE_DB = 0.5;

/**
 * Medians over ±¾ octave, so that a few deep nulls do not count as noise.
 *
 * @param octave log2 of frequency, ascending, n points
 */
export function noiseProfile(octave: Float64Array, levelDb: Float64Array): NoiseProfile {
  const n = octave.length;
  // Second differences pass over slopes; those of white noise have variance 6.
  const bend = new Float64Array(n);
  for (let i = 1; i < n - 1; i++) {
    bend[i] = Math.abs(levelDb[i - 1]! - 2 * levelDb[i]! + levelDb[i + 1]!) / Math.sqrt(6);
  }
  const pointDb = runningMedian(octave, bend).map((v) => Math.max(LEAST_POINT_DB, v / MEDIAN_OF_NORMAL));
  // Bend over a wider reach, less the part that single points bring into it.
  const reach = Math.max(2, Math.round((RIPPLE_OCTAVES * (n - 1)) / (octave[n - 1]! - octave[0]! || 1)));
  const sums = new Float64Array(n + 1);
  for (let i = 0; i < n; i++) sums[i + 1] = sums[i]! + levelDb[i]!;
  const wide = new Float64Array(n);
  const third = Math.max(1, Math.floor(reach / 2));
  const mean = (from: number, to: number) => (sums[to]! - sums[from]!) / (to - from);
  for (let i = 0; i < n; i++) {
    const from = i - third - (third >> 1);
    if (from < 0 || from + 3 * third > n) continue;
    wide[i] = Math.abs(
      mean(from, from + third) -
        2 * mean(from + third, from + 2 * third) +
        mean(from + 2 * third, from + 3 * third),
    );
  }
  const rippleDb = runningMedian(octave, wide).map((v, i) => {
    const variance = (v / MEDIAN_OF_NORMAL) ** 2 / 6 - pointDb[i]! ** 2 / third;
    return Math.max(LEAST_RIPPLE_DB, Math.sqrt(Math.max(0, variance)));
  });
  return { pointDb, rippleDb };
}

function runningMedian(octave: Float64Array, values: Float64Array): Float64Array {
  const n = octave.length;
  const out = new Float64Array(n);
  let from = 0;
  let to = 0;
  for (let i = 0; i < n; i++) {
    while (octave[from]! < octave[i]! - WINDOW_OCTAVES) from++;
    while (to < n && octave[to]! <= octave[i]! + WINDOW_OCTAVES) to++;
    out[i] = upperMedian(values.subarray(Math.max(1, from), Math.min(n - 1, to)));
  }
  return out;
}
