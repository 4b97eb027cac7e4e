import { type WavSampleFormat, writeWav } from '../../src/measurement/wavWriter.js';
import { filtered, noise, speaker } from '../impulse/digitalSystem.js';

export const rate = 48_000;
export const arrivalSample = 480;

export interface SimulatedImpulse {
  readonly length?: number;
  /** Delay in samples after the direct sound, and factor. */
  readonly reflections?: readonly (readonly [number, number])[];
  /** Standard deviation of the noise. */
  readonly noise?: number;
  /** Makes the noise fall with frequency, as rumble does. */
  readonly rumble?: boolean;
}

/** Simulated: a small two-way speaker of minimum phase, with reflections that are exact copies, and noise. */
export function impulseSamples(options: SimulatedImpulse = {}): Float64Array {
  const { length = 24_000, reflections = [], noise: deviation = 0, rumble = false } = options;
  const pulses = new Float64Array(length);
  pulses[arrivalSample] = 0.5;
  for (const [delay, factor] of reflections) pulses[arrivalSample + delay] = 0.5 * factor;
  const heard = filtered(speaker(rate), pulses);
  let rumbling = 0;
  return noise(length, 7).map((v, i) => {
    rumbling = 0.999 * rumbling + deviation * v;
    return heard[i]! + (rumble ? rumbling : deviation * v);
  });
}

export function impulseWav(options: SimulatedImpulse = {}, format: WavSampleFormat = 'float64'): Uint8Array {
  return writeWav({ channels: [impulseSamples(options)], sampleRateHz: rate, format }).bytes;
}
