import { exp, expm1 } from '../../elementary/exponential.js';
import { pow10 } from '../../elementary/power.js';
import { sin } from '../../elementary/sine.js';
import { inverseSweepParameters, type SweepParameters } from './sweepParameters.js';

/** Number of samples of the sweep itself, without the silence around it. */
export function sweepLength({ durationS, sampleRateHz }: SweepParameters): number {
  return Math.round(durationS * sampleRateHz);
}

/**
 * The sweep without the silence around it, x(t) = A·sin(2π·f₁·L·(e^(t/L) − 1)), L = T/ln(f₂/f₁), faded in and out as
 * half a Hann window. (Farina 2000, equation for the exponential sweep.)
 */
export function exponentialSweep(parameters: SweepParameters): Float64Array {
  const { fromHz, sampleRateHz, levelDb, fadeInS, fadeOutS } = parameters;
  const { timeConstantS: L } = inverseSweepParameters(parameters);
  const n = sweepLength(parameters);
  const amplitude = pow10(levelDb / 20);
  const fadeIn = fadeInS * sampleRateHz;
  const fadeOut = fadeOutS * sampleRateHz;
  const sweep = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const t = i / sampleRateHz;
    sweep[i] = amplitude * sin(2 * Math.PI * fromHz * L * expm1(t / L));
    if (i < fadeIn) sweep[i] = sweep[i]! * sin((Math.PI / 2) * (i / fadeIn)) ** 2;
    const toEnd = n - 1 - i;
    if (toEnd < fadeOut) sweep[i] = sweep[i]! * sin((Math.PI / 2) * (toEnd / fadeOut)) ** 2;
  }
  return sweep;
}

/** The sweep as it is written to a file, with silence before and after. */
export function sweepSignal(parameters: SweepParameters): Float64Array {
  const { sampleRateHz, silenceBeforeS, silenceAfterS } = parameters;
  const before = Math.round(silenceBeforeS * sampleRateHz);
  const after = Math.round(silenceAfterS * sampleRateHz);
  const signal = new Float64Array(before + sweepLength(parameters) + after);
  signal.set(exponentialSweep(parameters), before);
  return signal;
}

/**
 * The inverse filter in the time domain: the sweep reversed, times e^(−t/L), scaled so that sweep * inverse is a pulse
 * of gain 1 within the band. For use elsewhere; `deconvolveSweep` divides spectra instead, which is flat to the ends
 * of the band.
 */
export function inverseSweep(parameters: SweepParameters): Float64Array {
  const { sampleRateHz, toHz, levelDb } = parameters;
  const { timeConstantS: L } = inverseSweepParameters(parameters);
  const sweep = exponentialSweep(parameters);
  const n = sweep.length;
  // By stationary phase |X(f)|² = A²·fs²·L/(4f). Reversed, f comes when e^(−t/L) = f/f₂, so the product of the two
  // spectra is |X(f)|²·f/f₂, the same at every frequency.
  const product = pow10(levelDb / 10) * ((sampleRateHz ** 2 * L) / (4 * toHz));
  return sweep.map((_, i) => (sweep[n - 1 - i]! * exp(-i / (L * sampleRateHz))) / product);
}
