import { sin } from '../elementary/sine.js';

/**
 * What the closed forms need of a frequency axis, worked out once for many filters: sin²(ω/2) and cos²(ω/2) with
 * ω = 2π f/fs. The cosine is taken as a sine of the distance to half the sample rate, so it is exactly 0 there.
 */
export interface ResponseGrid {
  readonly sampleRateHz: number;
  readonly sinSquared: Float64Array;
  readonly cosSquared: Float64Array;
}

/** @param frequencyHz n frequencies from 0 to half of `sampleRateHz`, in any order. */
export function responseGrid(sampleRateHz: number, frequencyHz: Float64Array): ResponseGrid {
  const n = frequencyHz.length;
  const sinSquared = new Float64Array(n);
  const cosSquared = new Float64Array(n);
  for (let i = 0; i < n; i += 1) {
    const f = frequencyHz[i]!;
    sinSquared[i] = sin((Math.PI * f) / sampleRateHz) ** 2;
    cosSquared[i] = sin((Math.PI * (sampleRateHz / 2 - f)) / sampleRateHz) ** 2;
  }
  return { sampleRateHz, sinSquared, cosSquared };
}
