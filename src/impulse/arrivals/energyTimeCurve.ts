import { log10 } from '../../elementary/logarithm.js';
import { hypot } from '../../elementary/power.js';
import { powerOfTwoAtLeast, realFft } from '../samples/fft.js';
import type { ImpulseResponse } from '../samples/impulseResponse.js';
import { analyticSignal } from '../sweep/compressedImpulse.js';

export interface EnergyTimeCurve {
  /** From the arrival of the direct sound; one point a sample. */
  readonly timeS: Float64Array;
  /** Of the envelope (absolute value of the analytic signal), relative to its greatest within 1 ms of the arrival. */
  readonly levelDb: Float64Array;
}

export interface EnergyTimeOptions {
  readonly arrivalS: number;
  readonly beforeS?: number;
  readonly afterS?: number;
}

const directReachS = 1e-3;
const lowestDb = -200;

/** How the energy arrives over time. */
export function energyTimeCurve(
  { samples, sampleRateHz }: ImpulseResponse,
  { arrivalS, beforeS = 0.02, afterS = 0.5 }: EnergyTimeOptions,
): EnergyTimeCurve {
  const first = Math.max(0, Math.round((arrivalS - beforeS) * sampleRateHz));
  const segment = samples.slice(first, Math.round((arrivalS + afterS) * sampleRateHz) + 1);
  const size = powerOfTwoAtLeast(2 * segment.length);
  const { re, im } = analyticSignal(realFft(segment, size).bins, 1, segment.length);
  const height = re.map((v, i) => hypot(v, im[i]!));
  const timeS = height.map((_, i) => (first + i) / sampleRateHz - arrivalS);
  let direct = 0;
  height.forEach((h, i) => {
    if (Math.abs(timeS[i]!) <= directReachS) direct = Math.max(direct, h);
  });
  const levelDb = height.map((h) => Math.max(lowestDb, 20 * log10(h / (direct || 1))));
  return { timeS, levelDb };
}
