import { cholesky, solveLower } from '../../elementary/cholesky.js';
import { exp } from '../../elementary/exponential.js';
import { log } from '../../elementary/logarithm.js';

/** How probable a course of levels is, up to a constant: ln of its density. */
export type LogLikelihood = (levelDb: Float64Array) => number;

/** The level is as good as free. */
const FREE_LEVEL_DB = 30;
/** The baffle's step, tilt, broad swings; sizes as of finished speakers, common practice, no published source. */
const WIDE_DB = 3;
const WIDE_OCTAVES = 1.5;
/** Dips and peaks of speaker and room. */
const NARROW_OCTAVES = 0.2;
const NOISE_DB = 0.4;

/**
 * What is held probable of a pass band: a Gaussian process over log frequency, a wide part and a narrower one, each with
 * Matérn covariance of order 5/2.
 *
 * @param octave log2 of frequency, n
 * @param narrowDb standard deviation of dips and peaks
 */
export function unevenPrior(octave: Float64Array, narrowDb: number): LogLikelihood {
  const n = octave.length;
  const covariance = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      const apart = octave[i]! - octave[j]!;
      covariance[i * n + j] =
        FREE_LEVEL_DB ** 2 +
        WIDE_DB ** 2 * matern(apart / WIDE_OCTAVES) +
        narrowDb ** 2 * matern(apart / NARROW_OCTAVES) +
        (i === j ? NOISE_DB ** 2 : 0);
    }
  }
  const lower = cholesky(covariance, n);
  let halfLogDeterminant = 0;
  for (let i = 0; i < n; i++) halfLogDeterminant += log(lower[i * n + i]!);
  return (levelDb) => {
    const white = solveLower(lower, levelDb);
    return -0.5 * white.reduce((sum, x) => sum + x * x, 0) - halfLogDeterminant;
  };
}

/** Correlation at a distance of so many widths (Rasmussen and Williams, Gaussian Processes, 2006, eq. 4.17). */
function matern(distance: number): number {
  const x = Math.sqrt(5) * distance;
  return (1 + x + (x * x) / 3) * exp(-x);
}
