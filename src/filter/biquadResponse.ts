import { atan2 } from '../elementary/arctangent.js';
import { log10 } from '../elementary/logarithm.js';
import { hypot } from '../elementary/power.js';
import { sin } from '../elementary/sine.js';
import type { BiquadCoefficients } from './filter.js';

/** Level in dB and phase in (−π, π] of one biquad at n frequencies. */
export interface BiquadResponse {
  readonly levelDb: Float64Array;
  readonly phaseRad: Float64Array;
}

/**
 * Response of given coefficients, rounded ones too, at frequencies from 0 Hz to half the sample rate.
 *
 * At low frequencies b0 + b1 cos ω + … is a small difference of large numbers. So each polynomial is turned by
 * e^(jω), which cancels in the quotient, and written about ω = 0 with φ = sin²(ω/2):
 *
 *     e^(jω)·B = (b0 + b1 + b2) − 2 (b0 + b2) φ + j (b0 − b2) sin ω
 *
 * where the sum is added as (b0 + b1/2) + (b2 + b1/2), both halves being exact when poles or zeros lie near z = 1.
 * In the upper half of the axis the same is done about ω = π: −(b0 − b1 + b2) + 2 (b0 + b2)(1 − φ) + j (b0 − b2) sin ω.
 * A zero on the unit circle gives −Infinity dB there.
 */
export function biquadResponse(
  coefficients: BiquadCoefficients,
  sampleRateHz: number,
  frequencyHz: Float64Array,
): BiquadResponse {
  const { b0, b1, b2, a1, a2 } = coefficients;
  const n = frequencyHz.length;
  const levelDb = new Float64Array(n);
  const phaseRad = new Float64Array(n);
  const bSum = b0 + b1 / 2 + (b2 + b1 / 2);
  const aSum = 1 + a1 / 2 + (a2 + a1 / 2);
  const bTurned = b0 - b1 / 2 + (b2 - b1 / 2);
  const aTurned = 1 - a1 / 2 + (a2 - a1 / 2);
  for (let i = 0; i < n; i += 1) {
    const sine = sin((Math.PI * frequencyHz[i]!) / sampleRateHz);
    // The cosine of ω/2 as the sine of the distance to half the sample rate: exactly 0 there.
    const cosine = sin((Math.PI * (sampleRateHz / 2 - frequencyHz[i]!)) / sampleRateHz);
    const sinW = 2 * sine * cosine;
    const low = sine < cosine;
    const bReal = low ? bSum - 2 * (b0 + b2) * sine * sine : 2 * (b0 + b2) * cosine * cosine - bTurned;
    const aReal = low ? aSum - 2 * (1 + a2) * sine * sine : 2 * (1 + a2) * cosine * cosine - aTurned;
    const bImag = (b0 - b2) * sinW;
    const aImag = (1 - a2) * sinW;
    levelDb[i] = 20 * log10(hypot(bReal, bImag) / hypot(aReal, aImag));
    phaseRad[i] = atan2(bImag * aReal - bReal * aImag, bReal * aReal + bImag * aImag);
  }
  return { levelDb, phaseRad };
}
