import { log10 } from '../elementary/logarithm.js';
import type { ImpulseResponse } from '../impulse/samples/impulseResponse.js';
import type { SampleSource } from '../impulse/samples/sampleSource.js';
import { type DeconvolutionOptions, deconvolveSweep } from '../impulse/sweep/deconvolveSweep.js';
import type { SweepParameters } from '../impulse/sweep/sweepParameters.js';
import type { DeconvolutionReport } from '../schema/deconvolution.js';
import type { Warning } from '../warning.js';
import { roundDb, roundHz } from './rounding.js';

export interface DeconvolutionRequest extends DeconvolutionOptions {
  readonly title: string;
  readonly recording: SampleSource;
  readonly sweep: SweepParameters;
  /** Of the reading of the file. */
  readonly warnings?: readonly Warning[];
}

/**
 * A recorded sweep as an impulse response, with the harmonic orders apart.
 *
 * @throws InputError where the recording is silent, or does not hold the whole sweep
 */
export function deconvolutionReport(request: DeconvolutionRequest): {
  readonly impulse: ImpulseResponse;
  readonly report: DeconvolutionReport;
} {
  const { title, recording, sweep, warnings = [], ...options } = request;
  const { impulse, sweepStartS, harmonics, octaves, ...found } = deconvolveSweep(recording, sweep, options);
  const { samples, sampleRateHz } = impulse;
  const peak = samples.reduce((best, v, i) => (Math.abs(v) > Math.abs(samples[best]!) ? i : best), 0);
  return {
    impulse,
    report: {
      schemaVersion: 1,
      title,
      sampleRateHz,
      sweepStartS,
      recordedPeakDb: roundDb(20 * log10(found.recordedPeak)),
      ...(octaves && {
        octaves: octaves.map(({ centreHz, signalToNoiseDb }) => ({
          centreHz,
          signalToNoiseDb: Number(signalToNoiseDb.toFixed(1)),
        })),
      }),
      impulse: {
        lengthS: samples.length / sampleRateHz,
        peakAtS: peak / sampleRateHz,
        peakDb: roundDb(20 * log10(Math.abs(samples[peak]!))),
      },
      harmonics: harmonics.map(({ order, curve, relativeDb, noiseDb }) => ({
        order,
        frequencyHz: Array.from(curve.frequencyHz, roundHz),
        levelDb: Array.from(curve.levelDb, roundDb),
        relativeDb: Array.from(relativeDb, roundDb),
        ...(noiseDb && { noiseDb: Array.from(noiseDb, roundDb) }),
      })),
      warnings: [...warnings, ...found.warnings],
    },
  };
}
