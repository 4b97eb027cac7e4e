import { biquadResponse } from '../../src/filter/biquadResponse.js';
import { cookbookCoefficients } from '../../src/filter/cookbookCoefficients.js';
import type { BiquadCoefficients, Filter } from '../../src/filter/filter.js';

/** Second-order high and low pass of the Audio EQ Cookbook (W3C Note), HPF and LPF. */
export function pass(kind: 'high' | 'low', f0: number, q: number, sampleRateHz: number): BiquadCoefficients {
  const w0 = (2 * Math.PI * f0) / sampleRateHz;
  const alpha = Math.sin(w0) / (2 * q);
  const cosW0 = Math.cos(w0);
  const a0 = 1 + alpha;
  const outer = kind === 'high' ? (1 + cosW0) / 2 : (1 - cosW0) / 2;
  return {
    b0: outer / a0,
    b1: ((kind === 'high' ? -2 : 2) * outer) / a0,
    b2: outer / a0,
    a1: (-2 * cosW0) / a0,
    a2: (1 - alpha) / a0,
  };
}

export const peaking = (frequencyHz: number, gainDb: number, q: number, sampleRateHz: number) =>
  cookbookCoefficients({ type: 'peaking', frequencyHz, gainDb, q } satisfies Filter, sampleRateHz);

/** A small two-way speaker: falls below 60 Hz, three resonances, a gentle end of the treble. All minimum phase. */
export const speaker = (sampleRateHz: number): BiquadCoefficients[] => [
  pass('high', 60, 0.7, sampleRateHz),
  peaking(300, 6, 4, sampleRateHz),
  peaking(3000, -5, 3, sampleRateHz),
  peaking(7000, 4, 3, sampleRateHz),
  pass('low', 18_000, 0.7, sampleRateHz),
];

export function filtered(sections: readonly BiquadCoefficients[], input: Float64Array): Float64Array {
  let signal = input;
  for (const { b0, b1, b2, a1, a2 } of sections) {
    const output = new Float64Array(signal.length);
    for (let n = 0; n < signal.length; n++)
      output[n] =
        b0 * signal[n]! +
        b1 * (signal[n - 1] ?? 0) +
        b2 * (signal[n - 2] ?? 0) -
        a1 * (output[n - 1] ?? 0) -
        a2 * (output[n - 2] ?? 0);
    signal = output;
  }
  return signal;
}

/** Closed-form level and (wrapped) phase of the whole chain. */
export function chainResponse(
  sections: readonly BiquadCoefficients[],
  sampleRateHz: number,
  frequencyHz: Float64Array,
): { levelDb: Float64Array; phaseRad: Float64Array } {
  const levelDb = new Float64Array(frequencyHz.length);
  const phaseRad = new Float64Array(frequencyHz.length);
  for (const section of sections) {
    const response = biquadResponse(section, sampleRateHz, frequencyHz);
    response.levelDb.forEach((l, i) => {
      levelDb[i] = levelDb[i]! + l;
      phaseRad[i] = phaseRad[i]! + response.phaseRad[i]!;
    });
  }
  return { levelDb, phaseRad };
}

/** Adds a band-limited pulse at any position, a fraction of a sample included (windowed sinc over ±200 samples). */
export function addPulse(signal: Float64Array, position: number, height: number): void {
  const centre = Math.round(position);
  for (let n = Math.max(0, centre - 200); n < Math.min(signal.length, centre + 200); n++) {
    const x = n - position;
    const sinc = Math.abs(x) < 1e-9 ? 1 : Math.sin(Math.PI * x) / (Math.PI * x);
    signal[n] = signal[n]! + height * sinc * Math.cos((Math.PI / 2) * (x / 201)) ** 2;
  }
}

export interface Echo {
  readonly delayS: number;
  readonly levelDb: number;
  readonly inverted?: boolean;
}

/** The impulse response of a system heard directly at `arrivalS` and by the given other paths. */
export function echoic(
  sections: readonly BiquadCoefficients[],
  sampleRateHz: number,
  arrivalS: number,
  echoes: readonly Echo[],
  durationS = 0.5,
): { samples: Float64Array; sampleRateHz: number } {
  const paths = new Float64Array(Math.round(durationS * sampleRateHz));
  addPulse(paths, arrivalS * sampleRateHz, 1);
  for (const { delayS, levelDb, inverted } of echoes)
    addPulse(paths, (arrivalS + delayS) * sampleRateHz, (inverted ? -1 : 1) * 10 ** (levelDb / 20));
  return { samples: filtered(sections, paths), sampleRateHz };
}

/** Repeatable numbers in [0, 1). */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    // Marsaglia's xorshift32 after a multiplicative step, enough for test data.
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    let x = state;
    x ^= x >>> 16;
    x = Math.imul(x, 0x45d9f3b) >>> 0;
    x ^= x >>> 16;
    return (x >>> 0) / 2 ** 32;
  };
}

/** Gaussian noise of standard deviation 1 (Box and Muller). */
export function noise(count: number, seed: number): Float64Array {
  const next = seeded(seed);
  return Float64Array.from(
    { length: count },
    () => Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next()),
  );
}

export const degrees = (a: number, b: number): number => {
  const turns = (a - b) / (2 * Math.PI);
  return 360 * Math.abs(turns - Math.round(turns));
};
