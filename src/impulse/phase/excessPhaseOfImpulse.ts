import { atan2 } from '../../elementary/arctangent.js';
import { pow2 } from '../../elementary/exponential.js';
import { pow10 } from '../../elementary/power.js';
import type { GatedImpulse } from '../response/gate.js';
import { powerOfTwoAtLeast, realFft } from '../samples/fft.js';
import { slidingMean } from '../samples/slidingMean.js';
import { weightedMedian } from '../samples/weightedMedian.js';
import { foldedCepstrum, minimumPhaseOfSpectrum } from './minimumPhase.js';

export interface ImpulseExcessPhase {
  readonly frequencyHz: Float64Array;
  readonly minimumPhaseRad: Float64Array;
  /** Bound of the error of the minimum phase that comes from the finite transform. */
  readonly minimumPhaseErrorRad: number;
  /** Measured − minimum phase − that of the pure delay, within ±π. */
  readonly excessPhaseRad: Float64Array;
  /** Its delay, averaged by energy over 1/24 octave; the pure delay removed. */
  readonly excessGroupDelayS: Float64Array;
  /** The pure delay that was removed, from the arrival on. */
  readonly delayS: number;
}

export interface ExcessPhaseOptions {
  /** Ascending, below half the sample rate. */
  readonly frequencyHz: Float64Array;
  /** The transform is lengthened until the stated error is below this (0.005), to at most 131072 points. */
  readonly errorRad?: number;
}

const averagedOctaves = 1 / 24;
const longestSize = 1 << 17;
/** The pure delay is read where the level is within this of the strongest. */
const withinDb = 20;

/**
 * Minimum phase, excess phase and excess group delay of what a gate lets through of an impulse response.
 *
 * Group delays come without unwrapping: of the response as Re(F[n·h]/F[h]) (Oppenheim & Schafer, "Phase
 * unwrapping"), of its minimum-phase part as Re F[n·ĉ] from the folded cepstrum ĉ.
 */
export function excessPhaseOfImpulse(gated: GatedImpulse, options: ExcessPhaseOptions): ImpulseExcessPhase {
  const { samples, sampleRateHz, arrivalSample } = gated;
  const { frequencyHz, errorRad = 5e-3 } = options;
  let size = powerOfTwoAtLeast(4 * samples.length);
  let spectrum = realFft(samples, size);
  let minimum = minimumPhaseOfSpectrum(spectrum);
  while (minimum.errorRad > errorRad && 2 * size <= longestSize) {
    size *= 2;
    spectrum = realFft(samples, size);
    minimum = minimumPhaseOfSpectrum(spectrum);
  }
  const { bins } = spectrum;
  const ramp = realFft(
    samples.map((v, n) => (n - arrivalSample) * v),
    size,
  ).bins;
  const minimumPhaseRad = acrossBins(minimum.phaseRad);
  const delayBins = realFft(
    foldedCepstrum(minimum.logMagnitude).map((v, n) => n * v),
    size,
  ).bins;
  const minimumDelay = acrossBins(delayBins.filter((_, i) => i % 2 === 0));
  const power = new Float64Array(size / 2 + 1);
  const excess = new Float64Array(size / 2 + 1);
  for (let k = 0; k <= size / 2; k++) {
    power[k] = bins[2 * k]! ** 2 + bins[2 * k + 1]! ** 2;
    const delay = ramp[2 * k]! * bins[2 * k]! + ramp[2 * k + 1]! * bins[2 * k + 1]!;
    excess[k] = delay - power[k]! * minimumDelay[k]!;
  }
  const reach = pow2(averagedOctaves / 2);
  const [from, to] = [(k: number) => k / reach, (k: number) => k * reach];
  const energy = slidingMean(power, from, to);
  const delaySamples = slidingMean(excess, from, to).map((v, k) => v / (energy[k]! || 1));
  const pure = pureDelay(delaySamples, energy);
  const position = (f: number) => (f / sampleRateHz) * size;
  return {
    frequencyHz,
    minimumPhaseRad: frequencyHz.map((f) => between(minimumPhaseRad, position(f))),
    minimumPhaseErrorRad: minimum.errorRad,
    excessPhaseRad: frequencyHz.map((f) => {
      const k = Math.max(1, Math.min(size / 2 - 1, Math.round(position(f))));
      const measured = atan2(bins[2 * k + 1]!, bins[2 * k]!);
      return wrap(measured - minimumPhaseRad[k]! + (2 * Math.PI * k * (arrivalSample + pure)) / size);
    }),
    excessGroupDelayS: frequencyHz.map((f) => (between(delaySamples, position(f)) - pure) / sampleRateHz),
    delayS: pure / sampleRateHz,
  };
}

/** Zeros at 0 Hz and at half the sample rate leave an error that changes sign from bin to bin; this takes it out. */
function acrossBins(values: Float64Array): Float64Array {
  return values.map((v, k) => (2 * v + (values[k - 1] ?? v) + (values[k + 1] ?? v)) / 4);
}

/** The median of the delay, weighted by amplitude and Hz, where there is a signal worth the name. */
function pureDelay(delaySamples: Float64Array, energy: Float64Array): number {
  const strongest = energy.reduce((most, e) => Math.max(most, e), 0);
  const least = strongest * pow10(-withinDb / 10);
  const strong = Array.from(delaySamples.keys()).filter((k) => k > 0 && energy[k]! >= least);
  return weightedMedian(strong.map((k) => ({ value: delaySamples[k]!, weight: Math.sqrt(energy[k]!) })));
}

function between(values: Float64Array, position: number): number {
  const k = Math.max(0, Math.min(values.length - 2, Math.floor(position)));
  return values[k]! + (position - k) * (values[k + 1]! - values[k]!);
}

const wrap = (angle: number): number => angle - 2 * Math.PI * Math.round(angle / (2 * Math.PI));
