import { fftPlan, powerOfTwoAtLeast } from '../samples/fft.js';
import type { SampleSource } from '../samples/sampleSource.js';
import { sweepInverse, sweepResponse } from './sweepInverse.js';
import { inverseSweepParameters, type SweepParameters } from './sweepParameters.js';

/** A recording up to this many times as long as the sweep is taken whole. */
const wholeUpTo = 2;
/** Kept before the sweep beside the lead of the harmonics, and after its end. */
const keptBeforeS = 1;
const keptAfterS = 5;
const keptOrders = 10;

/**
 * The stretch of a recording to deconvolve: all of it where it is short, else the sweep with what belongs to it,
 * found as the greatest of the responses of overlapping pieces.
 */
export function locateSweep(
  recording: SampleSource,
  sweep: Float64Array,
  parameters: SweepParameters,
  progress: (share: number) => void,
): { readonly from: number; readonly count: number } {
  const n = sweep.length;
  if (recording.length <= wholeUpTo * n) return { from: 0, count: recording.length };
  const { sampleRateHz } = parameters;
  const size = powerOfTwoAtLeast(2 * n);
  const plan = fftPlan(size);
  const inverse = sweepInverse(sweep, parameters, plan);
  // A piece of `size` samples holds every sweep that starts within its first size − n.
  const step = size - n;
  let start = 0;
  let greatest = 0;
  for (let from = 0; from + n <= recording.length; from += step) {
    const piece = recording.read(from, Math.min(size, recording.length - from));
    const response = sweepResponse(piece, inverse, plan);
    for (let lag = 0; lag < step; lag++) {
      const height = Math.abs(response[lag]!);
      if (height > greatest) [greatest, start] = [height, from + lag];
    }
    progress(Math.min(1, (from + step) / recording.length));
  }
  const lead = Math.max(...inverseSweepParameters(parameters, keptOrders).harmonicLeadS) + keptBeforeS;
  const from = Math.max(0, start - Math.round(lead * sampleRateHz));
  const end = Math.min(recording.length, start + n + Math.round(keptAfterS * sampleRateHz));
  return { from, count: end - from };
}
