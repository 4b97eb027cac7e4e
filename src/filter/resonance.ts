import { atan2 } from '../elementary/arctangent.js';
import type { BiquadCoefficients } from './filter.js';

/** Where on the axis a pair of poles or zeros makes itself felt, and how sharply. */
export interface Resonance {
  readonly hz: number;
  /** tan(ω/2) there. */
  readonly t: number;
  readonly q: number;
}

/** Where a biquad's own poles and zeros are felt most, as far as they are pairs with a place between 0 Hz and half the sample rate. */
export function resonancesOf({ b0, b1, b2, a1, a2 }: BiquadCoefficients, sampleRateHz: number): Resonance[] {
  const pairs = [resonanceOf(1, a1, a2, sampleRateHz), resonanceOf(b0, b1, b2, sampleRateHz)];
  return pairs.filter((pair) => pair !== undefined);
}

/** A pair on the unit circle is as sharp as this; sharper ones need no more points to be met. */
const SHARPEST = 1e6;

/**
 * Where |x0 + x1 z⁻¹ + x2 z⁻²| is least between 0 Hz and half the sample rate; undefined where it has no minimum in
 * between. With φ = sin²(ω/2) its square is (S − 2 (x0 + x2) φ)² + 4 (x0 − x2)² φ (1 − φ), S = x0 + x1 + x2, so the
 * place is a quotient, and stays exact where both roots crowd about z = 1.
 */
function resonanceOf(x0: number, x1: number, x2: number, sampleRateHz: number): Resonance | undefined {
  if (!(x0 * x2 > 0)) return undefined;
  const sum = x0 + x1 / 2 + (x2 + x1 / 2);
  const phi = ((x0 + x2) * sum - (x0 - x2) ** 2) / (8 * x0 * x2);
  if (!(phi > 0 && phi < 1)) return undefined;
  const halfW = atan2(Math.sqrt(phi), Math.sqrt(1 - phi));
  const inward = Math.abs(1 - Math.sqrt(x2 / x0));
  return {
    hz: (halfW * sampleRateHz) / Math.PI,
    t: Math.sqrt(phi / (1 - phi)),
    q: Math.min(SHARPEST, halfW / inward),
  };
}
