import { logMagnitudeOf } from '../response/logMagnitude.js';
import { inverseRealFft, realFft, type Spectrum } from '../samples/fft.js';

export interface MinimumPhase {
  /** At bins 0 to size/2. */
  readonly phaseRad: Float64Array;
  /**
   * Bound of the aliasing of the cepstrum: the greatest change between the transform of this size and that of
   * half the size, over bins within 40 dB of the strongest. The true error is smaller, except for zeros on the unit circle.
   */
  readonly errorRad: number;
}

/**
 * Minimum phase of a sampled system from its magnitude, by the folded real cepstrum.
 *
 * The cepstrum of ln|H| is even; doubled for positive times and dropped for negative ones it is that of the
 * minimum-phase system, whose spectrum has the wanted phase as its imaginary part.
 * (Oppenheim & Schafer, Discrete-Time Signal Processing, "Cepstrum analysis and homomorphic deconvolution".)
 *
 * @param logMagnitude ln|H| at bins 0 to size/2 (0 Hz to half the sample rate), size a power of two ≥ 8
 * @param everySecond the same on half as many bins; only where it is not simply every second one (see `logMagnitudeOf`)
 */
export function minimumPhase(
  logMagnitude: Float64Array,
  everySecond: Float64Array = logMagnitude.filter((_, k) => k % 2 === 0),
): MinimumPhase {
  const phaseRad = foldedCepstrumPhase(logMagnitude);
  const coarse = foldedCepstrumPhase(everySecond);
  let strongest = Number.NEGATIVE_INFINITY;
  for (const value of logMagnitude) strongest = Math.max(strongest, value);
  const weakest = strongest - (40 / 20) * Math.LN10;
  let errorRad = 0;
  for (let k = 0; k < coarse.length; k++) {
    if (everySecond[k]! >= weakest) errorRad = Math.max(errorRad, Math.abs(coarse[k]! - phaseRad[2 * k]!));
  }
  return { phaseRad, errorRad };
}

/** Minimum phase of a system with this spectrum, zeros on its bins taken care of. */
export function minimumPhaseOfSpectrum({ size, bins }: Spectrum): MinimumPhase & {
  readonly logMagnitude: Float64Array;
} {
  const logMagnitude = logMagnitudeOf({ size, bins });
  const half = { size: size / 2, bins: bins.filter((_, i) => i % 4 < 2) };
  return { logMagnitude, ...minimumPhase(logMagnitude, logMagnitudeOf(half)) };
}

/** The positive-time half of the cepstrum of ln|H|, that is, of the minimum-phase system (length size). */
export function foldedCepstrum(logMagnitude: Float64Array): Float64Array {
  const size = 2 * (logMagnitude.length - 1);
  const bins = new Float64Array(size + 2);
  for (let k = 0; k < logMagnitude.length; k++) bins[2 * k] = logMagnitude[k]!;
  const cepstrum = inverseRealFft({ size, bins });
  for (let n = 1; n < size / 2; n++) cepstrum[n] = 2 * cepstrum[n]!;
  cepstrum.fill(0, size / 2 + 1);
  return cepstrum;
}

function foldedCepstrumPhase(logMagnitude: Float64Array): Float64Array {
  const size = 2 * (logMagnitude.length - 1);
  const { bins } = realFft(foldedCepstrum(logMagnitude), size);
  const phaseRad = new Float64Array(logMagnitude.length);
  for (let k = 0; k < phaseRad.length; k++) phaseRad[k] = bins[2 * k + 1]!;
  return phaseRad;
}
