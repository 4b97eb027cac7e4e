import { pow10 } from '../elementary/power.js';
import { cookbookCoefficients } from './cookbookCoefficients.js';
import type { Filter } from './filter.js';

/** Runs one channel of a signal through a bank, block after block; the state is kept from one to the next. */
export type BankRunner = (samples: Float64Array) => void;

/**
 * Filters in series as transposed direct form II with state in double precision:
 *
 *     y = b0 x + s1,  s1 ← b1 x − a1 y + s2,  s2 ← b2 x − a2 y
 *
 * @param gainDb digital gain ahead of the filters
 * @returns a function that replaces a block of samples by what comes out; one for each channel
 */
export function createBankRunner(
  filters: readonly Filter[],
  sampleRateHz: number,
  gainDb: number,
): BankRunner {
  const gain = pow10(gainDb / 20);
  const sections = filters.map((filter) => ({
    ...cookbookCoefficients(filter, sampleRateHz),
    s1: 0,
    s2: 0,
  }));
  return (samples) => {
    for (let i = 0; i < samples.length; i++) samples[i] = gain * samples[i]!;
    for (const section of sections) {
      const { b0, b1, b2, a1, a2 } = section;
      let { s1, s2 } = section;
      for (let i = 0; i < samples.length; i++) {
        const x = samples[i]!;
        const y = b0 * x + s1;
        s1 = b1 * x - a1 * y + s2;
        s2 = b2 * x - a2 * y;
        samples[i] = y;
      }
      // A silence that has died away must not be reckoned on in denormal numbers.
      section.s1 = Math.abs(s1) < LEAST_STATE ? 0 : s1;
      section.s2 = Math.abs(s2) < LEAST_STATE ? 0 : s2;
    }
  };
}

/** Some 6000 dB under full scale. */
const LEAST_STATE = 1e-300;
