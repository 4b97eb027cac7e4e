import { exp } from '../elementary/exponential.js';
import { log } from '../elementary/logarithm.js';

/** Delays of reflections in seconds, an octave apart. */
export const DELAYS_S = [0.0004, 0.0008, 0.0016, 0.0032, 0.0064, 0.0128, 0.0256];

/**
 * How far what reflections do to a curve agrees between two cells of a grid. A reflection of the delay τ draws a ripple
 * of the period 1/τ in Hz, so a mean over many periods hardly notices it: what is as wide and smooth as a filter stands
 * out of scatter several times its size. Each delay has the same share and stands for a gamma distribution of order
 * four about it, of which the correlation is Re (1 − 2πi Δf τ/4)⁻⁴. A cell as wide as a period averages the ripple
 * away, as sin(x)/x does, here exp(−x²/6).
 *
 * @param frequencyHz n points evenly spaced on log frequency, each the mean of its cell
 * @param smoothedOctaves over how many octaves the levels are means, where that is more than a cell
 * @returns n×n, row by row, its lower triangle; the diagonal falls from 1 as the cells grow wide
 */
export function reflectionCorrelation(
  frequencyHz: Float64Array,
  delaysS: readonly number[],
  smoothedOctaves = 0,
): Float64Array {
  const n = frequencyHz.length;
  const share = 1 / delaysS.length;
  const own = n > 1 ? log(frequencyHz[1]! / frequencyHz[0]!) : 0;
  const cell = Math.max(own, smoothedOctaves * Math.LN2);
  const correlation = new Float64Array(n * n);
  for (const delayS of delaysS) {
    const kept = frequencyHz.map((hz) => exp(-((Math.PI * hz * cell * delayS) ** 2) / 6));
    for (let i = 0; i < n; i++) {
      for (let j = 0; j <= i; j++) {
        const x = ((frequencyHz[i]! - frequencyHz[j]!) * 2 * Math.PI * delayS) / 4;
        const squared = x * x;
        const size = (1 + squared) ** 2;
        correlation[i * n + j]! +=
          (share * kept[i]! * kept[j]! * (1 - 6 * squared + squared * squared)) / (size * size);
      }
    }
  }
  return correlation;
}
