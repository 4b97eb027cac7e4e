import { log2 } from '../elementary/logarithm.js';
import type { Curve } from './curve.js';

/**
 * Running median of the level over ±`widthOctaves`/2 of a curve on a log grid, the window shrinking to the same
 * number of points on both sides near an end.
 *
 * Deep nulls and sharp peaks that fill less than half of the window leave no trace, and a slope stays where it is
 * (a mean of powers would move it towards its loud side).
 */
export function medianSmooth(curve: Curve, widthOctaves: number): Curve {
  const { frequencyHz, levelDb } = curve;
  const n = levelDb.length;
  if (n < 3) return curve;
  const step = log2(frequencyHz[n - 1]! / frequencyHz[0]!) / (n - 1);
  const reach = Math.round(widthOctaves / 2 / step);
  const smoothed = levelDb.map((_, i) => {
    const half = Math.min(reach, i, n - 1 - i);
    return levelDb.slice(i - half, i + half + 1).sort()[half]!;
  });
  return { frequencyHz, levelDb: smoothed };
}
