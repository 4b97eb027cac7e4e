import { exp, pow2 } from '../../elementary/exponential.js';
import { log, log2, log10 } from '../../elementary/logarithm.js';
import { inverseRealFft, powerOfTwoAtLeast, realFft } from '../samples/fft.js';
import type { ImpulseResponse } from '../samples/impulseResponse.js';
import { inversePower, noiseAround, type RecordedNoise } from './recordedNoise.js';
import { inverseSweepParameters, type SweepParameters } from './sweepParameters.js';

/** Where something cut into the sweep while it sounded. */
export interface SweepBreak {
  /** When the sweep was there, from its first sample. */
  readonly atS: number;
  readonly frequencyHz: number;
  /** Energy ahead of the direct sound over all of it, in the band in which that is most. */
  readonly levelDb: number;
}

const LOWEST_HZ = 125;
const PER_OCTAVE = 2;
/** Standard deviation of a band over log frequency. */
const BAND_OCTAVES = 0.25;
const BAND_REACH = 4;
/** The direct sound begins where a response first reaches this share of its peak. */
const ONSET = 0.1;
/** Nearer to the direct sound lies what a band is wide, and a shorter path that sounded less than the share above. */
const PERIODS = 4;
const CLEARANCE_S = 0.002;
const SHORTEST_S = 0.02;
/** From here on the curve was found off by half a decibel RMS in the octave around; recordings without a fault lie below −60 dB. */
const LEAST_DB = -34;
/** Over what the noise beside the sweep makes there, as power. */
const OVER_NOISE = 10;
/** Where there was no silence to take noise from: it is as strong at every lag, a break strongest near the direct sound. */
const FAR_SHARE = 4;

/**
 * The strongest sound that comes ahead of the direct one. No speaker and no room answers before it is asked: samples that
 * were lost, a level that jumped, or a noise in the octave that sounds at the time ring on both sides of the arrival
 * instead of behind it, and look like a dip or a peak of the speaker. Undefined where there is none.
 *
 * @param impulse linear response that begins well ahead of the direct sound
 */
export function sweepBreak(
  { samples, sampleRateHz }: ImpulseResponse,
  parameters: SweepParameters,
  noise?: RecordedNoise,
): SweepBreak | undefined {
  const peak = samples.reduce((most, v) => Math.max(most, Math.abs(v)), 0);
  const onset = samples.findIndex((v) => Math.abs(v) >= ONSET * peak);
  const size = powerOfTwoAtLeast(2 * samples.length);
  const { bins } = realFft(samples, size);
  const { fromHz, toHz } = parameters;
  const step = pow2(1 / PER_OCTAVE);
  let strongest: SweepBreak | undefined;
  for (let hz = Math.max(LOWEST_HZ, 4 * fromHz); hz <= toHz / 2; hz *= step) {
    const end = onset - Math.ceil((CLEARANCE_S + PERIODS / hz) * sampleRateHz);
    if (end < SHORTEST_S * sampleRateHz) continue;
    const band = bandOf(bins, (hz * size) / sampleRateHz);
    const ahead = energy(band.subarray(0, end));
    const levelDb = 10 * log10(ahead / energy(band));
    if (!(levelDb >= LEAST_DB) || levelDb < (strongest?.levelDb ?? levelDb)) continue;
    const noiseThere = noise
      ? noiseEnergy(noise, parameters, hz, end)
      : FAR_SHARE * energy(band.subarray(0, Math.floor(end / FAR_SHARE)));
    if (ahead < OVER_NOISE * noiseThere) continue;
    const { timeConstantS } = inverseSweepParameters(parameters);
    strongest = { atS: timeConstantS * log(hz / fromHz), frequencyHz: hz, levelDb };
  }
  return strongest;
}

/** The samples of a response through a Gaussian band over log frequency, without delay. */
function bandOf(bins: Float64Array, centre: number): Float64Array {
  const size = bins.length - 2;
  const band = new Float64Array(bins.length);
  const far = pow2(BAND_REACH * BAND_OCTAVES);
  for (let k = Math.ceil(centre / far); k <= Math.min(size / 2, centre * far); k++) {
    const weight = bandWeight(k / centre);
    band[2 * k] = weight * bins[2 * k]!;
    band[2 * k + 1] = weight * bins[2 * k + 1]!;
  }
  return inverseRealFft({ size, bins: band });
}

const bandWeight = (ratio: number): number => exp(-0.5 * (log2(ratio) / BAND_OCTAVES) ** 2);

/** What noise of the recording comes to in `count` samples of a band of the response. */
function noiseEnergy(noise: RecordedNoise, parameters: SweepParameters, hz: number, count: number): number {
  // ∫ of the squared Gaussian over ln f is √π·σ.
  const widthHz = hz * Math.LN2 * BAND_OCTAVES * Math.sqrt(Math.PI);
  const share = widthHz / (parameters.sampleRateHz / 2);
  const reach = pow2(BAND_OCTAVES);
  return count * share * noiseAround(noise, hz / reach, hz * reach) * inversePower(parameters, hz);
}

function energy(samples: Float64Array): number {
  let sum = 0;
  for (const v of samples) sum += v * v;
  return sum;
}
