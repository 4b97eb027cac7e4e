import { pow10 } from '../elementary/power.js';
import { cos, sin } from '../elementary/sine.js';
import { limitGainDb } from './closedForm.js';
import type { BiquadCoefficients, Filter } from './filter.js';

/**
 * Coefficients of a cookbook filter, a0 divided out.
 *
 * Source: W3C Group Note "Audio EQ Cookbook" (R. Bristow-Johnson), peakingEQ, lowShelf and highShelf with Q:
 * A = 10^(gainDb/40), ω0 = 2π f0/fs, α = sin ω0/(2Q).
 *
 * Total on all finite input with q > 0: at gain 0 it is exactly the identity; at f0 ≤ 0 or f0 ≥ fs/2 it is the
 * limit of the cookbook filter there (identity, or plain gain for the shelf that then covers the whole axis).
 * Toward f0 = 0 poles and zeros close up to z = 1 and double precision runs out slowly: at 10 Hz and 192 kHz
 * the response of the rounded coefficients is still good to about 1e-8 dB.
 *
 * @param filter f0 in Hz, gain in dB, Q a ratio
 * @returns b0, b1, b2, a1, a2 of H(z) = (b0 + b1 z⁻¹ + b2 z⁻²)/(1 + a1 z⁻¹ + a2 z⁻²)
 */
export function cookbookCoefficients(filter: Filter, sampleRateHz: number): BiquadCoefficients {
  const constant = limitGainDb(filter, sampleRateHz);
  if (constant !== undefined) return { b0: pow10(constant / 20), b1: 0, b2: 0, a1: 0, a2: 0 };
  const A = pow10(filter.gainDb / 40);
  const w0 = (2 * Math.PI * filter.frequencyHz) / sampleRateHz;
  const cosW0 = cos(w0);
  const alpha = sin(w0) / (2 * filter.q);

  if (filter.type === 'peaking') {
    const a0 = 1 + alpha / A;
    return {
      b0: (1 + alpha * A) / a0,
      b1: (-2 * cosW0) / a0,
      b2: (1 - alpha * A) / a0,
      a1: (-2 * cosW0) / a0,
      a2: (1 - alpha / A) / a0,
    };
  }

  // The high shelf is the low shelf with the sign of cos ω0 and of the middle coefficients turned (z → −z).
  const c = filter.type === 'lowShelf' ? cosW0 : -cosW0;
  const turn = filter.type === 'lowShelf' ? 1 : -1;
  const root = 2 * Math.sqrt(A) * alpha;
  const a0 = A + 1 + (A - 1) * c + root;
  return {
    b0: (A * (A + 1 - (A - 1) * c + root)) / a0,
    b1: (turn * 2 * A * (A - 1 - (A + 1) * c)) / a0,
    b2: (A * (A + 1 - (A - 1) * c - root)) / a0,
    a1: (turn * -2 * (A - 1 + (A + 1) * c)) / a0,
    a2: (A + 1 + (A - 1) * c - root) / a0,
  };
}
