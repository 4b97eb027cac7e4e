import { exp } from '../../elementary/exponential.js';
import { log } from '../../elementary/logarithm.js';

/**
 * Bode's weighting integrated from 0, G(u) = ∫₀ᵘ ln coth(|v|/2) dv; odd, G(±∞) = ±π²/4.
 *
 * Near 0 from ln coth(v/2) = ln(2/v) + v²/12 − 7v⁴/1440 + 31v⁶/90720 − …, farther out from
 * ln coth(v/2) = 2·Σ e^(−(2k+1)v)/(2k+1).
 */
export function bodeWeightIntegral(u: number): number {
  const x = Math.abs(u);
  if (x === 0) return 0;
  const sign = Math.sign(u);
  if (x < 0.3) {
    const x2 = x * x;
    return (
      sign *
      x *
      (log(2 / x) + 1 + x2 * (1 / 36 - x2 * (7 / 7200 - x2 * (31 / 635040 - (x2 * 127) / 43545600))))
    );
  }
  const step = exp(-2 * x);
  let power = exp(-x);
  let sum = 0;
  for (let odd = 1; power > 1e-17 * odd * odd; odd += 2) {
    sum += power / (odd * odd);
    power *= step;
  }
  return sign * (Math.PI ** 2 / 4 - 2 * sum);
}

export interface EdgeSlopes {
  /** d ln|H| / d ln f below the first and above the last point, held to 0 Hz and to infinity. */
  readonly below: number;
  readonly above: number;
}

/**
 * Minimum phase of a continuous-time system whose ln|H| is piecewise linear over ln f, by Bode's relation
 * φ(f₀) = (1/π)·∫ (d ln|H|/du)·ln coth(|u|/2) du, u = ln(f/f₀), exact for such a magnitude.
 * (Bode, Network Analysis and Feedback Amplifier Design, 1945.)
 *
 * @param logMagnitude ln|H| at points equally spaced in ln f
 * @param stepLn their spacing in ln f
 * @returns phase in radians at the same points
 */
export function bodePhase(logMagnitude: Float64Array, stepLn: number, edges: EdgeSlopes): Float64Array {
  const n = logMagnitude.length;
  const integral = Float64Array.from({ length: n + 1 }, (_, k) => bodeWeightIntegral(k * stepLn));
  const ends = Math.PI ** 2 / 4;
  // The weight of a whole segment, by its distance in steps from the point in question.
  const segment = Float64Array.from({ length: n }, (_, k) => integral[k + 1]! - integral[k]!);
  const slope = new Float64Array(Math.max(0, n - 1));
  for (let j = 0; j + 1 < n; j++) slope[j] = (logMagnitude[j + 1]! - logMagnitude[j]!) / stepLn;
  const phaseRad = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    let sum = edges.below * (ends - integral[i]!) + edges.above * (ends - integral[n - 1 - i]!);
    for (let j = 0; j < i; j++) sum += slope[j]! * segment[i - 1 - j]!;
    for (let j = i; j + 1 < n; j++) sum += slope[j]! * segment[j - i]!;
    phaseRad[i] = sum / Math.PI;
  }
  return phaseRad;
}
