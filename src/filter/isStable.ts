import type { BiquadCoefficients } from './filter.js';

/**
 * Whether both poles lie strictly inside the unit circle: the stability triangle |a2| < 1, |a1| < 1 + a2
 * (Oppenheim & Schafer, Discrete-Time Signal Processing). Exact for coefficients on a fixed-point grid, where
 * the pole radius itself may round to 1.
 */
export function isStable(coefficients: BiquadCoefficients): boolean {
  const half = Math.abs(coefficients.a1) / 2;
  return Math.abs(coefficients.a2) < 1 && 1 - half + (coefficients.a2 - half) > 0;
}
