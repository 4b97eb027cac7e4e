import type { BiquadCoefficients } from './filter.js';

/** Distance of the outer pole from z = 0: the larger |z| of the roots of z² + a1 z + a2. Stable means below 1. */
export function poleRadius(coefficients: BiquadCoefficients): number {
  const { a1, a2 } = coefficients;
  const discriminant = (a1 / 2) ** 2 - a2;
  return discriminant < 0 ? Math.sqrt(a2) : Math.abs(a1 / 2) + Math.sqrt(discriminant);
}
