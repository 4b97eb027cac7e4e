import { InputError } from '../../inputError.js';
import type { Warning } from '../../warning.js';
import { findClipping } from '../samples/clipping.js';
import { spreadShare } from '../samples/energyNearPeak.js';
import { fftPlan, powerOfTwoAtLeast } from '../samples/fft.js';
import type { ImpulseResponse } from '../samples/impulseResponse.js';
import { indexOfGreatest } from '../samples/indexOfGreatest.js';
import type { SampleSource } from '../samples/sampleSource.js';
import { strongestDisturbance } from './disturbance.js';
import { exponentialSweep, sweepLength } from './exponentialSweep.js';
import { type HarmonicDistortion, harmonicDistortion, type OrderImpulse } from './harmonicDistortion.js';
import { locateSweep } from './locateSweep.js';
import { type BesideNoise, besideNoise, type RecordedOctave, recordedNoise } from './recordedNoise.js';
import { recordingWarnings, seconds } from './recordingWarnings.js';
import { sweepBreak } from './sweepBreak.js';
import { sweepInverse, sweepResponse } from './sweepInverse.js';
import { inverseSweepParameters, type SweepParameters } from './sweepParameters.js';
import { sweepTiming } from './sweepTiming.js';

/** Told how far a long computation is, as a share from 0 to 1. */
export type Progress = (share: number) => void;

export interface DeconvolutionOptions {
  /** Harmonic orders to separate, 1 being the linear response; 5 unless given. */
  readonly orders?: number;
  /** Of the linear response after its greatest sample; as much as the recording holds, up to 2 s, unless given. */
  readonly responseS?: number;
  readonly progress?: Progress;
}

export interface DeconvolvedSweep {
  /** A wire from player to recorder gives a pulse of 1, limited to the sweep's band. */
  readonly impulse: ImpulseResponse;
  /** When the sound of the sweep's first sample came, from the start of the recording (by the strongest path). */
  readonly sweepStartS: number;
  /** From the second order on. */
  readonly harmonics: readonly HarmonicDistortion[];
  /** Greatest absolute sample of the recording, or of its stretch around the sweep. */
  readonly recordedPeak: number;
  /** Signal to noise of all of the impulse response; absent where nothing was recorded without the sweep. */
  readonly octaves?: readonly RecordedOctave[];
  readonly warnings: readonly Warning[];
}

/** Share of the gap to the next order that stays on the early side of an order's pulse. */
const earlyShare = 0.4;
const longestResponseS = 2;
const leastResponseS = 0.3;
/** By so much a sweep may seem to overhang the recording. */
const marginS = 0.01;
/** The greatest sample over the RMS of all lags: noise comes to some 5 to 8, the response of a small woofer to 20. */
const standsOut = 12;

/**
 * The linear impulse response and the harmonic distortion of what lies between a played exponential sweep and its
 * recording. Dividing by the sweep's spectrum gathers each harmonic order into a response of its own, L·ln n before
 * the linear one. (Farina, AES 108th Convention, 2000.)
 *
 * A recording much longer than the sweep is searched for it in pieces first.
 *
 * @throws InputError where the recording is silent, or does not hold the whole sweep
 */
export function deconvolveSweep(
  recording: SampleSource,
  parameters: SweepParameters,
  options: DeconvolutionOptions = {},
): DeconvolvedSweep {
  const { orders = 5, progress } = options;
  const { sampleRateHz } = parameters;
  const sweep = exponentialSweep(parameters);
  const n = sweepLength(parameters);
  if (recording.length < n)
    throw new InputError(
      `the recording is ${seconds(recording.length / sampleRateHz)} long, shorter than the sweep of ` +
        `${seconds(parameters.durationS)}; expected all of it`,
    );
  const { from, count } = locateSweep(recording, sweep, parameters, (share) => progress?.(0.5 * share));
  const part = recording.read(from, count);
  if (!part.some((v) => v !== 0)) throw new InputError('the recording is silent, expected the sweep in it');
  const clipping = findClipping(part);
  progress?.(0.5);
  const size = powerOfTwoAtLeast(part.length);
  const plan = fftPlan(size);
  const response = sweepResponse(part, sweepInverse(sweep, parameters, plan), plan);
  progress?.(0.9);
  const peak = indexOfGreatest(response);
  // In a circle, lags before the start of the recording lie at the end.
  const lag = peak > size - n / 2 ? peak - size : peak;
  const take = (start: number, length: number): Float64Array =>
    Float64Array.from({ length }, (_, i) => response[(((start + i) % size) + size) % size]!);
  const isEarly = lag < -marginS * sampleRateHz;
  const isLate = lag + n > part.length + marginS * sampleRateHz;
  if ((isEarly || isLate) && Math.abs(response[peak]!) < standsOut * rms(response))
    throw new InputError(
      'found no sweep in the recording: no response stands out; expected the very sweep that was told of (its length, where it begins and ends), well above the noise',
    );
  if (isEarly)
    throw new InputError(
      `the beginning of the sweep is missing: by its strongest response it started ${seconds(-(from + lag) / sampleRateHz)} before the ` +
        'recording; expected all of it, and the very sweep that was told of (its length, where it begins and ends)',
    );
  if (isLate)
    throw new InputError(
      `the sweep in the recording breaks off: it starts at ${seconds((from + lag) / sampleRateHz)} and lasts ` +
        `${seconds(parameters.durationS)}, but the recording ends at ${seconds(recording.length / sampleRateHz)}`,
    );

  const leads = [0, ...inverseSweepParameters(parameters, orders + 1).harmonicLeadS].map(
    (s) => s * sampleRateHz,
  );
  const before = Math.floor(earlyShare * leads[1]!);
  const available = part.length - n - lag;
  const wanted = options.responseS ?? longestResponseS;
  const after = Math.max(
    Math.min(available, Math.round(wanted * sampleRateHz)),
    Math.round(0.02 * sampleRateHz),
  );
  const swept = { fromHz: parameters.fromHz, toHz: parameters.toHz };
  const impulse = { samples: take(peak - before, before + after), sampleRateHz, swept };
  const orderImpulses: OrderImpulse[] = [];
  for (let order = 1; order <= orders; order++) {
    const early = Math.floor(earlyShare * (leads[order]! - leads[order - 1]!));
    const late = order === 1 ? after : Math.floor((1 - earlyShare) * (leads[order - 1]! - leads[order - 2]!));
    const start = Math.round(peak - leads[order - 1]!) - early;
    orderImpulses.push({ order, samples: take(start, early + late), early });
  }
  const start = Math.max(0, Math.round(lag));
  const noise = recordedNoise(part, start, parameters);
  const harmonics = harmonicDistortion(orderImpulses, parameters, noise);
  const { octaves, hum }: Partial<BesideNoise> = noise ? besideNoise(impulse, noise, parameters) : {};
  const disturbance = strongestDisturbance(part, start, parameters);
  const timing = sweepTiming(response, peak, parameters);
  const spread = spreadShare(impulse);
  const broken = sweepBreak(impulse, parameters, noise);
  progress?.(1);
  return {
    impulse,
    sweepStartS: (from + lag) / sampleRateHz,
    harmonics,
    recordedPeak: Math.abs(part[indexOfGreatest(part)]!),
    ...(octaves && { octaves }),
    warnings: recordingWarnings({
      ...(clipping && { clipping }),
      ...(spread !== undefined && { spreadShare: spread }),
      ...(timing && { timing }),
      ...(octaves && { octaves }),
      ...(hum && { hum }),
      ...(disturbance && { disturbance: { ...disturbance, atS: from / sampleRateHz + disturbance.atS } }),
      ...(broken && { broken: { ...broken, atS: (from + lag) / sampleRateHz + broken.atS } }),
      harmonics,
      followsS: available / sampleRateHz,
      wantedS: options.responseS ?? leastResponseS,
    }),
  };
}

function rms(values: Float64Array): number {
  return Math.sqrt(values.reduce((sum, v) => sum + v * v, 0) / values.length);
}
