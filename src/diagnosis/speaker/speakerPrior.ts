import { exp } from '../../elementary/exponential.js';
import { log } from '../../elementary/logarithm.js';
import { pow } from '../../elementary/power.js';

/**
 * One kind of irregularity: its standard deviation (at each point, or everywhere), and the width over which it
 * hangs together. A Gaussian process with Matérn covariance of order 5/2 (smooth) over log frequency.
 */
export interface Ripple {
  readonly sigmaDb: number | Float64Array;
  readonly widthOctaves: number;
}

/** How a speaker's own response may look, as a Gaussian process over log frequency. */
export interface SpeakerPrior {
  readonly ripples: readonly Ripple[];
  /** Of each point by itself, n points. */
  readonly noiseDb: Float64Array;
}

/** A grid and what is held probable about the part of a curve on it that no reflection explains. */
export interface Whitener {
  readonly n: number;
  /** Turns a curve into independent values, of variance 1 were the curve drawn from the prior. */
  whiten(values: ArrayLike<number>): Float64Array;
  /** ln of the determinant of the covariance. */
  readonly logDeterminant: number;
}

/** Level and slope are as good as free. */
const FREE_LEVEL_DB = 30;
const FREE_SLOPE_DB = 10;
/** States of one Matérn 5/2 process: value and two derivatives. */
const STATES = 3;

/**
 * A Kalman filter over the grid: what each point adds to what the points below it foretold. The same numbers as the
 * lower Cholesky factor of the whole covariance matrix would give, in n steps instead of n² (Hartikainen and Särkkä,
 * IEEE MLSP 2010: Matérn processes as stochastic differential equations).
 *
 * @param octave log2 of frequency, n ascending points
 */
export function speakerWhitener(octave: Float64Array, prior: SpeakerPrior): Whitener {
  const n = octave.length;
  const middle = octave[n >> 1] ?? 0;
  const blocks = prior.ripples.length;
  const size = STATES * blocks + 2;
  const level = STATES * blocks;

  const observed = new Float64Array(n * size);
  const gains = new Float64Array(n * size);
  const deviations = new Float64Array(n);
  const transitions = new Float64Array(n * blocks * STATES * STATES);

  const stationary = prior.ripples.map(({ sigmaDb, widthOctaves }) =>
    stationaryCovariance(typeof sigmaDb === 'number' ? sigmaDb : 1, widthOctaves),
  );
  let covariance = new Float64Array(size * size);
  stationary.forEach((p, b) => {
    for (let i = 0; i < STATES; i++) {
      for (let j = 0; j < STATES; j++)
        covariance[(b * STATES + i) * size + b * STATES + j] = p[i * STATES + j]!;
    }
  });
  covariance[level * size + level] = FREE_LEVEL_DB ** 2;
  covariance[(level + 1) * size + level + 1] = FREE_SLOPE_DB ** 2;

  let logDeterminant = 0;
  const ph = new Float64Array(size);
  for (let t = 0; t < n; t++) {
    if (t > 0) {
      const step = octave[t]! - octave[t - 1]!;
      const a = prior.ripples.map(({ widthOctaves }) => transition(step, widthOctaves));
      a.forEach((block, b) => {
        transitions.set(block, (t * blocks + b) * STATES * STATES);
      });
      covariance = predict(covariance, a, stationary, size);
    }
    const h = observed.subarray(t * size, (t + 1) * size);
    prior.ripples.forEach(({ sigmaDb }, b) => {
      h[b * STATES] = typeof sigmaDb === 'number' ? 1 : sigmaDb[t]!;
    });
    h[level] = 1;
    h[level + 1] = octave[t]! - middle;

    let variance = prior.noiseDb[t]! ** 2;
    for (let i = 0; i < size; i++) {
      let sum = 0;
      for (let j = 0; j < size; j++) sum += covariance[i * size + j]! * h[j]!;
      ph[i] = sum;
      variance += h[i]! * sum;
    }
    deviations[t] = Math.sqrt(variance);
    logDeterminant += log(variance);
    for (let i = 0; i < size; i++) gains[t * size + i] = ph[i]! / variance;
    for (let i = 0; i < size; i++) {
      for (let j = 0; j < size; j++) covariance[i * size + j]! -= (ph[i]! * ph[j]!) / variance;
    }
  }

  return {
    n,
    logDeterminant,
    whiten: (values) => {
      const out = new Float64Array(n);
      const state = new Float64Array(size);
      for (let t = 0; t < n; t++) {
        const base = t * size;
        let foretold = state[level]! + observed[base + level + 1]! * state[level + 1]!;
        for (let b = 0; b < blocks; b++) {
          const s = b * STATES;
          if (t > 0) {
            const a = (t * blocks + b) * STATES * STATES;
            const x = state[s]!;
            const y = state[s + 1]!;
            const z = state[s + 2]!;
            state[s] = transitions[a]! * x + transitions[a + 1]! * y + transitions[a + 2]! * z;
            state[s + 1] = transitions[a + 3]! * x + transitions[a + 4]! * y + transitions[a + 5]! * z;
            state[s + 2] = transitions[a + 6]! * x + transitions[a + 7]! * y + transitions[a + 8]! * z;
          }
          foretold += observed[base + s]! * state[s]!;
        }
        const news = values[t]! - foretold;
        out[t] = news / deviations[t]!;
        for (let i = 0; i < size; i++) state[i]! += gains[base + i]! * news;
      }
      return out;
    },
  };
}

/** Covariance of a Matérn 5/2 process and its two derivatives. */
function stationaryCovariance(sigma: number, width: number): Float64Array {
  const lambda = Math.sqrt(5) / width;
  const variance = sigma * sigma;
  const kappa = (lambda * lambda * variance) / 3;
  return Float64Array.of(variance, 0, -kappa, 0, kappa, 0, -kappa, 0, pow(lambda, 4) * variance);
}

/** exp(F·step) for F = [[0,1,0],[0,0,1],[−λ³,−3λ²,−3λ]]: since (F + λ)³ = 0 the series ends after the square. */
function transition(step: number, width: number): Float64Array {
  const l = Math.sqrt(5) / width;
  const nilpotent = [l, 1, 0, 0, l, 1, -l * l * l, -3 * l * l, -2 * l];
  const out = new Float64Array(9);
  for (let i = 0; i < 3; i++) {
    for (let j = 0; j < 3; j++) {
      let square = 0;
      for (let k = 0; k < 3; k++) square += nilpotent[i * 3 + k]! * nilpotent[k * 3 + j]!;
      const unit = i === j ? 1 : 0;
      out[i * 3 + j] = exp(-l * step) * (unit + step * nilpotent[i * 3 + j]! + (step * step * square) / 2);
    }
  }
  return out;
}

/** A·P·Aᵀ + Q with Q = P∞ − A·P∞·Aᵀ; the level and slope stay. */
function predict(
  covariance: Float64Array,
  transitions: readonly Float64Array[],
  stationary: readonly Float64Array[],
  size: number,
): Float64Array<ArrayBuffer> {
  const blocks = transitions.length;
  const left = covariance.slice();
  for (let b = 0; b < blocks; b++) {
    const a = transitions[b]!;
    for (let i = 0; i < STATES; i++) {
      for (let j = 0; j < size; j++) {
        let sum = 0;
        for (let k = 0; k < STATES; k++) sum += a[i * STATES + k]! * covariance[(b * STATES + k) * size + j]!;
        left[(b * STATES + i) * size + j] = sum;
      }
    }
  }
  const out = left.slice();
  for (let b = 0; b < blocks; b++) {
    const a = transitions[b]!;
    for (let i = 0; i < size; i++) {
      for (let j = 0; j < STATES; j++) {
        let sum = 0;
        for (let k = 0; k < STATES; k++) sum += left[i * size + b * STATES + k]! * a[j * STATES + k]!;
        out[i * size + b * STATES + j] = sum;
      }
    }
    const p = stationary[b]!;
    for (let i = 0; i < STATES; i++) {
      for (let j = 0; j < STATES; j++) {
        let kept = 0;
        for (let k = 0; k < STATES; k++) {
          for (let l = 0; l < STATES; l++)
            kept += a[i * STATES + k]! * p[k * STATES + l]! * a[j * STATES + l]!;
        }
        out[(b * STATES + i) * size + b * STATES + j]! += p[i * STATES + j]! - kept;
      }
    }
  }
  return out;
}
