import fc from 'fast-check';
import type { Filter } from '../../src/filter/filter.js';

export const SEED = { seed: 20240611 };
export const SAMPLE_RATES_HZ = [44100, 48000, 96000, 192000] as const;

export const sampleRate = fc.constantFrom(...SAMPLE_RATES_HZ);

/** Uniform, and the ends now and then; `fc.double` would give mostly numbers next to zero. */
export const uniform = (min: number, max: number): fc.Arbitrary<number> =>
  fc.integer({ min: 0, max: 2 ** 31 - 1 }).map((i) => min + ((max - min) * i) / (2 ** 31 - 1));

/** Uniform in the logarithm. */
export const logarithmic = (min: number, max: number): fc.Arbitrary<number> =>
  uniform(Math.log(min), Math.log(max)).map(Math.exp);

export const filter = (options?: { maxQ?: number; maxGainDb?: number }): fc.Arbitrary<Filter> =>
  fc.record({
    type: fc.constantFrom('peaking', 'lowShelf', 'highShelf'),
    frequencyHz: logarithmic(10, 21_000),
    gainDb: uniform(-(options?.maxGainDb ?? 18), options?.maxGainDb ?? 18),
    q: logarithmic(0.2, options?.maxQ ?? 20),
  });

/** 0 Hz, half the sample rate, and `perOctave` points between 1 Hz and just below half the sample rate. */
export function axis(sampleRateHz: number, perOctave: number): Float64Array {
  const half = sampleRateHz / 2;
  const points = [0];
  for (let f = 1; f < half; f *= 2 ** (1 / perOctave)) points.push(f);
  points.push(half);
  return Float64Array.from(points);
}
