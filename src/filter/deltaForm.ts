import { pow2 } from '../elementary/exponential.js';
import type { BiquadCoefficients } from './filter.js';
import { type FixedPointFormat, fixedPointRange, toFixedPoint } from './fixedPoint.js';

/**
 * A biquad in the delta operator δ = (z − 1)/Δ with Δ = 2^−shift, H = (b0 + b1 δ⁻¹ + b2 δ⁻²)/(1 + a1 δ⁻¹ + a2 δ⁻²).
 * One step of it, every Δ a shift of the accumulator:
 *
 *     u = x − a1 s1 − a2 s2
 *     y = b0 u + b1 s1 + b2 s2
 *     s2 ← s2 + Δ s1
 *     s1 ← s1 + Δ u
 *
 * Poles and zeros near z = 1, those of low filters at high sample rates, are near 0 in δ, so a word of given length
 * holds their distance from z = 1 with all of its bits rather than with the last few. The accumulators s1 and s2
 * need words longer than the signal by about `shift` bits.
 *
 * Source: Kauraniemi, Laakso, Hartimo, Ovaska, "Delta operator realizations of direct-form IIR filters", IEEE Trans.
 * Circuits and Systems II 45 (1998).
 */
export interface DeltaCoefficients extends BiquadCoefficients {
  readonly shift: number;
}

export function deltaCoefficients(coefficients: BiquadCoefficients, shift: number): DeltaCoefficients {
  const { b0, b1, b2, a1, a2 } = coefficients;
  const scale = pow2(shift);
  return {
    shift,
    b0,
    b1: (b0 + b1 / 2 + b0 + b1 / 2) * scale,
    b2: (b0 + b1 / 2 + (b2 + b1 / 2)) * scale * scale,
    a1: (2 + a1) * scale,
    a2: (1 + a1 / 2 + (a2 + a1 / 2)) * scale * scale,
  };
}

/** The ordinary coefficients of a delta form. */
export function biquadFromDelta(delta: DeltaCoefficients): BiquadCoefficients {
  const step = pow2(-delta.shift);
  const b1 = delta.b1 * step;
  const a1 = delta.a1 * step;
  return {
    b0: delta.b0,
    b1: b1 - 2 * delta.b0,
    b2: delta.b0 - b1 + delta.b2 * step * step,
    a1: a1 - 2,
    a2: 1 - a1 + delta.a2 * step * step,
  };
}

/**
 * The delta form rounded to a format, with the largest shift at which all five numbers still fit; undefined where
 * they fit at no shift from 0 up.
 */
export function roundedDeltaForm(
  coefficients: BiquadCoefficients,
  format: FixedPointFormat,
): DeltaCoefficients | undefined {
  const { lowest, highest, step } = fixedPointRange(format);
  const fits = ({ b0, b1, b2, a1, a2 }: DeltaCoefficients): boolean =>
    [b0, b1, b2, a1, a2].every((x) => x >= lowest * step && x <= highest * step);
  let shift = -1;
  while (shift < 30 && fits(deltaCoefficients(coefficients, shift + 1))) shift += 1;
  if (shift < 0) return undefined;
  const exact = deltaCoefficients(coefficients, shift);
  const round = (x: number): number => toFixedPoint(x, format).value;
  return {
    shift,
    b0: round(exact.b0),
    b1: round(exact.b1),
    b2: round(exact.b2),
    a1: round(exact.a1),
    a2: round(exact.a2),
  };
}
