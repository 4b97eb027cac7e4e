import { pow2 } from '../elementary/exponential.js';
import { log10 } from '../elementary/logarithm.js';
import type { GatedImpulse } from './response/gate.js';
import { powerOfTwoAtLeast, realFft } from './samples/fft.js';
import type { ImpulseResponse } from './samples/impulseResponse.js';
import { powerDensity, powerOf } from './samples/powerDensity.js';
import { slidingMean } from './samples/slidingMean.js';

export interface OctaveNoise {
  readonly centreHz: number;
  /** Signal to noise within the octave, in what the gate lets through. */
  readonly signalToNoiseDb: number;
}

export interface SignalToNoise {
  /** Without those in which there is digital silence. */
  readonly octaves: readonly OctaveNoise[];
  /** Of the octave around a frequency that the gate resolves. */
  readonly at: (frequencyHz: number) => number;
  /** Where the noise was taken from. */
  readonly noiseFrom: 'before the arrival' | 'the end' | 'both';
}

/** Noise is taken from at least this long a stretch … */
const shortestS = 0.02;
/** … that ends this long before the arrival, or … */
const clearanceS = 0.005;
/** … is the last part of what follows it; no more of either than is needed for a mean. */
const tailShare = 0.1;
const longestS = 2;
/** Quieter than this beside the peak, a stretch was cleared by a program and tells nothing of the noise. */
const silent = 1e-10;

/** Spectrum of the power that the noise has per sample, on bins of one width. */
interface NoiseSpectrum {
  readonly power: Float64Array;
  readonly stepHz: number;
  /** The window smears what lies lower. */
  readonly resolvedFromHz: number;
}

/**
 * Signal to noise in what a gate lets through, by octave. The noise is what the recording holds before the direct
 * sound or at its very end, whichever is quieter at the frequency; it gets through the gate in proportion to the
 * gate's length. Undefined where there is no stretch to take it from.
 */
export function signalToNoise(
  impulse: ImpulseResponse,
  arrivalS: number,
  gated: GatedImpulse,
): SignalToNoise | undefined {
  const { samples, sampleRateHz } = impulse;
  const arrival = Math.round(arrivalS * sampleRateHz);
  const shortest = shortestS * sampleRateHz;
  const peak = samples.reduce((most, v) => Math.max(most, Math.abs(v)), 0);
  const usable = (part: Float64Array) =>
    part.length >= shortest && part.some((v) => Math.abs(v) > silent * peak)
      ? noiseSpectrum(part, sampleRateHz)
      : undefined;
  const longest = longestS * sampleRateHz;
  const clear = Math.max(0, arrival - Math.round(clearanceS * sampleRateHz));
  const before = usable(samples.subarray(Math.max(0, clear - longest), clear));
  const tail = Math.min(longest, Math.round(tailShare * (samples.length - arrival)));
  const end = usable(samples.subarray(samples.length - tail));
  const spectra = [before, end].filter((s) => s !== undefined);
  if (spectra.length === 0) return undefined;

  const size = powerOfTwoAtLeast(2 * gated.samples.length);
  const stepHz = sampleRateHz / size;
  const signal = octaveMeans(powerOf(realFft(gated.samples, size).bins));
  const at = (frequencyHz: number): number => {
    const noise = Math.min(
      ...spectra.map((s) => atBin(s.power, Math.max(frequencyHz, s.resolvedFromHz) / s.stepHz)),
    );
    const withNoise = atBin(signal, frequencyHz / stepHz);
    const through = noise * gated.noiseSamples;
    // Digital silence in an octave: nothing to trust where there is no signal either.
    if (through === 0) return withNoise > 0 ? Number.POSITIVE_INFINITY : Number.NEGATIVE_INFINITY;
    // What the gate lets through holds the noise too.
    return 10 * log10(Math.max(withNoise - through, 1e-3 * withNoise) / through);
  };
  const octaves: OctaveNoise[] = [];
  for (let n = -5; n <= 4; n++) {
    const centreHz = 1000 * pow2(n);
    const resolved = centreHz >= gated.resolvedFromHz && centreHz * Math.SQRT2 < sampleRateHz / 2;
    const signalToNoiseDb = at(centreHz);
    if (resolved && Number.isFinite(signalToNoiseDb)) octaves.push({ centreHz, signalToNoiseDb });
  }
  return { octaves, at, noiseFrom: before && end ? 'both' : before ? 'before the arrival' : 'the end' };
}

function noiseSpectrum(part: Float64Array, sampleRateHz: number): NoiseSpectrum {
  const density = powerDensity(part, sampleRateHz);
  return { ...density, power: octaveMeans(density.power) };
}

const octaveMeans = (power: Float64Array): Float64Array =>
  slidingMean(
    power,
    (k) => k / Math.SQRT2,
    (k) => k * Math.SQRT2,
  );

const atBin = (values: Float64Array, bin: number): number =>
  values[Math.max(1, Math.min(values.length - 1, Math.round(bin)))]!;
