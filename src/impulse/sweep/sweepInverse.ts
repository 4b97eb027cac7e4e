import { pow2 } from '../../elementary/exponential.js';
import { pow10 } from '../../elementary/power.js';
import { sin } from '../../elementary/sine.js';
import { type FftPlan, inverseRealFft, realFft, type Spectrum } from '../samples/fft.js';
import { inverseSweepParameters, type SweepParameters } from './sweepParameters.js';

/** Where the sweep holds this share of the power that it should have, division by it is halved. */
const regularization = 1e-4;
/** Below and above the sweep's band the response is faded out over this span. */
const fadeOctaves = 1 / 2;

/**
 * Spectrum of the filter that undoes the sweep: conj(X)/(|X|² + ε·S), S the power that an endless sweep would have at
 * the frequency, A²·fs²·L/(4f). Within the band this is plain division (0.001 dB off); outside, where there is nothing
 * to divide by, it fades out.
 */
export function sweepInverse(sweep: Float64Array, parameters: SweepParameters, plan: FftPlan): Spectrum {
  const { size } = plan;
  const { bins } = realFft(sweep, size, plan);
  const { fromHz, toHz, sampleRateHz, levelDb } = parameters;
  const { timeConstantS } = inverseSweepParameters(parameters);
  const powerTimesHz = (pow10(levelDb / 10) * sampleRateHz ** 2 * timeConstantS) / 4;
  const stepHz = sampleRateHz / size;
  const lowest = fromHz / pow2(fadeOctaves);
  const highest = Math.min(toHz * pow2(fadeOctaves), sampleRateHz / 2);
  for (let k = 0; k <= size / 2; k++) {
    const f = k * stepHz;
    let gain = 0;
    if (f > lowest && f < highest) {
      const fade = bandFade(f, lowest, fromHz) * bandFade(-f, -highest, -toHz);
      const power = bins[2 * k]! ** 2 + bins[2 * k + 1]! ** 2;
      gain = fade / (power + (regularization * powerTimesHz) / f);
    }
    bins[2 * k] = gain * bins[2 * k]!;
    bins[2 * k + 1] = -gain * bins[2 * k + 1]!;
  }
  return { size, bins };
}

/** Responses at all lags, in a circle, of a piece of recording to the sweep. */
export function sweepResponse(piece: Float64Array, inverse: Spectrum, plan: FftPlan): Float64Array {
  const { size, bins } = realFft(piece, plan.size, plan);
  for (let k = 0; k <= size; k += 2) {
    const re = bins[k]!;
    const im = bins[k + 1]!;
    bins[k] = re * inverse.bins[k]! - im * inverse.bins[k + 1]!;
    bins[k + 1] = re * inverse.bins[k + 1]! + im * inverse.bins[k]!;
  }
  return inverseRealFft({ size, bins }, plan);
}

/** 0 up to `zero`, 1 from `one` on, as the square of a sine between. */
function bandFade(f: number, zero: number, one: number): number {
  if (f >= one) return 1;
  return f <= zero ? 0 : sin((Math.PI / 2) * ((f - zero) / (one - zero))) ** 2;
}
