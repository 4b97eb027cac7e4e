import { cholesky, solveLower, solveLowerTransposed } from './cholesky.js';

/** One kind of irregularity: its standard deviation, and the width over which it hangs together. */
export interface Ripple {
  readonly sigmaDb: number;
  readonly widthOctaves: number;
}

/** How a speaker's own response may look, as a Gaussian process over log frequency. */
export interface SpeakerPrior {
  readonly ripples: readonly Ripple[];
  /** Of each point by itself. */
  readonly noiseDb: number;
}

/** A curve and what is held probable about the part of it that no reflection explains. */
export interface Whitener {
  readonly n: number;
  /** Factor of the covariance. */
  readonly lower: Float64Array;
  /** Turns a curve into independent values of variance 1 (were it drawn from the prior). */
  whiten(values: ArrayLike<number>): Float64Array;
  /** ln of the determinant of the covariance. */
  readonly logDeterminant: number;
  /** The part of `residual` that is expected to come from ripples at least `widthOctaves` wide. */
  smoothPart(residual: ArrayLike<number>, widthOctaves: number): Float64Array;
}

/** Level and slope are as good as free. */
const FREE_LEVEL_DB = 30;
const FREE_SLOPE_DB = 10;

/**
 * @param octave log2 of frequency, n ascending points
 */
export function speakerWhitener(octave: Float64Array, prior: SpeakerPrior): Whitener {
  const n = octave.length;
  const middle = octave[n >> 1] ?? 0;
  const covariance = (i: number, j: number, minWidth: number): number => {
    const d = octave[i]! - octave[j]!;
    let sum = FREE_LEVEL_DB ** 2 + FREE_SLOPE_DB ** 2 * (octave[i]! - middle) * (octave[j]! - middle);
    for (const { sigmaDb, widthOctaves } of prior.ripples) {
      if (widthOctaves < minWidth) continue;
      sum += sigmaDb * sigmaDb * Math.exp((-d * d) / (2 * widthOctaves * widthOctaves));
    }
    return sum;
  };
  const a = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) a[i * n + j] = covariance(i, j, 0);
    a[i * n + i]! += prior.noiseDb ** 2;
  }
  const lower = cholesky(a, n);
  let logDeterminant = 0;
  for (let i = 0; i < n; i++) logDeterminant += 2 * Math.log(lower[i * n + i]!);
  return {
    n,
    lower,
    logDeterminant,
    whiten: (values) => solveLower(lower, values),
    smoothPart: (residual, widthOctaves) => {
      const alpha = solveLowerTransposed(lower, solveLower(lower, residual));
      const out = new Float64Array(n);
      for (let i = 0; i < n; i++) {
        let sum = 0;
        for (let j = 0; j < n; j++) sum += covariance(i, j, widthOctaves) * alpha[j]!;
        out[i] = sum;
      }
      return out;
    },
  };
}
