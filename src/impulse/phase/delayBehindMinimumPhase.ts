import { atan2 } from '../../elementary/arctangent.js';
import { exp } from '../../elementary/exponential.js';
import { cos } from '../../elementary/sine.js';
import { powerOfTwoAtLeast, realFft } from '../samples/fft.js';
import type { ImpulseResponse } from '../samples/impulseResponse.js';
import { minimumPhaseOfSpectrum } from './minimumPhase.js';

const beforeS = 0.05;
const afterS = 0.5;
/** Weighted root mean square of the phase that may remain beyond minimum phase and delay. */
const tolerableRad = 0.05;

/**
 * The delay, in samples from the start, behind which an impulse response is a minimum-phase system: the slope of
 * its phase less its minimum phase. Undefined where more than a delay remains, as with a crossover's all-pass, a
 * reflection stronger than the direct sound, or much noise.
 *
 * @param near the delay to within a few samples
 */
export function delayBehindMinimumPhase(
  { samples, sampleRateHz }: ImpulseResponse,
  near: number,
): number | undefined {
  const first = Math.max(0, Math.round(near - beforeS * sampleRateHz));
  const segment = samples.slice(first, Math.round(near + afterS * sampleRateHz));
  const size = powerOfTwoAtLeast(2 * segment.length);
  const spectrum = realFft(segment, size);
  const { logMagnitude, phaseRad } = minimumPhaseOfSpectrum(spectrum);
  const top = logMagnitude.reduce((most, v) => Math.max(most, v), Number.NEGATIVE_INFINITY);
  const weight = new Float64Array(size / 2);
  const excess = new Float64Array(size / 2);
  for (let k = 1; k < size / 2; k++) {
    const omega = (2 * Math.PI * k) / size;
    excess[k] = atan2(spectrum.bins[2 * k + 1]!, spectrum.bins[2 * k]!) - phaseRad[k]!;
    // Amplitude, faded out toward half the sample rate, where a fraction of a sample is nearly half a turn.
    weight[k] = exp(logMagnitude[k]! - top) * cos(omega / 2) ** 2;
  }
  let delay = near - first;
  for (let round = 0; round < 6; round++) {
    const { later, errorRad } = lineThroughOrigin(excess, weight, delay, Math.PI / (size / 2));
    delay += later;
    if (Math.abs(later) < 1e-6) return errorRad <= tolerableRad ? first + delay : undefined;
  }
  return undefined;
}

/**
 * How much later than `delay` the phase says, and how far it strays from that line. Half a turn at all frequencies
 * is allowed for: a speaker wired the other way round.
 */
function lineThroughOrigin(
  excess: Float64Array,
  weight: Float64Array,
  delay: number,
  omegaStep: number,
): { later: number; errorRad: number } {
  let cosine = 0;
  for (let k = 1; k < excess.length; k++) cosine += weight[k]! * cos(excess[k]! + omegaStep * k * delay);
  const polarity = cosine < 0 ? Math.PI : 0;
  const sums = { one: 0, xy: 0, xx: 0, yy: 0 };
  for (let k = 1; k < excess.length; k++) {
    const x = omegaStep * k;
    const y = wrap(excess[k]! + x * delay - polarity);
    sums.one += weight[k]!;
    sums.xy += weight[k]! * x * y;
    sums.xx += weight[k]! * x * x;
    sums.yy += weight[k]! * y * y;
  }
  const later = -sums.xy / sums.xx;
  return { later, errorRad: Math.sqrt(Math.max(0, sums.yy - later ** 2 * sums.xx) / sums.one) };
}

const wrap = (angle: number): number => angle - 2 * Math.PI * Math.round(angle / (2 * Math.PI));
