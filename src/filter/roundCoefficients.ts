import type { BiquadCoefficients } from './filter.js';
import { type FixedPointFormat, hexFromWord, toFixedPoint } from './fixedPoint.js';

export type CoefficientName = keyof BiquadCoefficients;
export const coefficientNames: readonly CoefficientName[] = ['b0', 'b1', 'b2', 'a1', 'a2'];

/**
 * Which sign of a1 and a2 a device stores. `subtracted`: y = b0 x + b1 x₁ + b2 x₂ − a1 y₁ − a2 y₂, the numbers of
 * `BiquadCoefficients`; `added`: their negatives, y = … + a1 y₁ + a2 y₂.
 */
export type FeedbackSign = 'subtracted' | 'added';

export interface RoundedCoefficients {
  /** What the device will run, in our own sign convention whatever it stores. */
  readonly coefficients: BiquadCoefficients;
  /** Stored words as signed integers, in the device's sign convention. */
  readonly words: Readonly<Record<CoefficientName, number>>;
  /** Coefficients that lie outside the format and were held at its end. */
  readonly overflow: readonly CoefficientName[];
}

/**
 * Each coefficient rounded by itself to a fixed-point format (a0 = 1 is not stored).
 * The sign matters twice: cutting off rounds the other way, and +2^(integerBits−1) has no word while its negative has.
 */
export function roundCoefficients(
  coefficients: BiquadCoefficients,
  format: FixedPointFormat,
  feedbackSign: FeedbackSign = 'subtracted',
): RoundedCoefficients {
  const rounded = { b0: 0, b1: 0, b2: 0, a1: 0, a2: 0 };
  const words = { b0: 0, b1: 0, b2: 0, a1: 0, a2: 0 };
  const overflow: CoefficientName[] = [];
  for (const name of coefficientNames) {
    const sign = feedbackSign === 'added' && (name === 'a1' || name === 'a2') ? -1 : 1;
    const stored = toFixedPoint(sign * coefficients[name], format);
    words[name] = stored.word;
    rounded[name] = sign * stored.value + 0;
    if (stored.overflow) overflow.push(name);
  }
  return { coefficients: rounded, words, overflow };
}

/** The stored words in two's complement hexadecimal. */
export function hexCoefficients(
  rounded: RoundedCoefficients,
  format: FixedPointFormat,
): Readonly<Record<CoefficientName, string>> {
  const { b0, b1, b2, a1, a2 } = rounded.words;
  const hex = (word: number): string => hexFromWord(word, format);
  return { b0: hex(b0), b1: hex(b1), b2: hex(b2), a1: hex(a1), a2: hex(a2) };
}
