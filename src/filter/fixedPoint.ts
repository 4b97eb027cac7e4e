import { pow2 } from '../elementary/exponential.js';

/**
 * A two's complement number format with a fixed binary point, written "5.23" for 5 integer bits, the sign among
 * them, and 23 fraction bits: values from −2^(integerBits−1) to 2^(integerBits−1) − 2^−fractionBits in steps of
 * 2^−fractionBits.
 */
export interface FixedPointFormat {
  /** Sign bit included; at least 1. */
  readonly integerBits: number;
  /** At least 0; with the integer bits at most 50, so that sums of a few words are exact in double precision. */
  readonly fractionBits: number;
  /**
   * `nearest` (default): half a step added, then cut off, so that ties go up. `down`: cut off. `towardZero`: cut
   * off without the sign.
   */
  readonly rounding?: FixedPointRounding;
}

/** How a coefficient gets onto the grid of a number format. */
export type FixedPointRounding = 'nearest' | 'down' | 'towardZero';

/** A number as a format holds it. */
export interface FixedPointNumber {
  /** The word as a signed integer; the value is `word`·2^−fractionBits. */
  readonly word: number;
  readonly value: number;
  /** The number lay outside the format and was held at its end. */
  readonly overflow: boolean;
}

/**
 * @throws RangeError for a number that is not finite, or a format that is none
 */
export function toFixedPoint(x: number, format: FixedPointFormat): FixedPointNumber {
  if (!Number.isFinite(x)) throw new RangeError(`only finite numbers have a fixed-point word; received ${x}`);
  const { lowest, highest, step } = fixedPointRange(format);
  const rounded = ROUND[format.rounding ?? 'nearest'](x / step);
  const word = Math.min(Math.max(rounded, lowest), highest) + 0; // + 0: no negative zero
  return { word, value: word * step, overflow: word !== rounded + 0 };
}

/** Lowest and highest word of a format, and the value of one step. */
export function fixedPointRange(format: FixedPointFormat): {
  readonly lowest: number;
  readonly highest: number;
  readonly step: number;
} {
  const { integerBits, fractionBits } = format;
  const whole = Number.isInteger(integerBits) && Number.isInteger(fractionBits);
  if (!whole || integerBits < 1 || fractionBits < 0 || integerBits + fractionBits > 50) {
    throw new RangeError(
      'a fixed-point format needs at least 1 integer bit (the sign), 0 or more fraction bits and at most 50 in all; ' +
        `received ${integerBits}.${fractionBits}`,
    );
  }
  const half = pow2(integerBits + fractionBits - 1);
  return { lowest: -half, highest: half - 1, step: pow2(-fractionBits) };
}

/** The word in two's complement, as many upper-case hexadecimal digits as the format fills, without a prefix. */
export function hexFromWord(word: number, format: FixedPointFormat): string {
  const { lowest, highest } = fixedPointRange(format);
  if (!Number.isInteger(word) || word < lowest || word > highest) {
    throw new RangeError(
      `a word of this format is a whole number from ${lowest} to ${highest}; received ${word}`,
    );
  }
  const digits = Math.ceil((format.integerBits + format.fractionBits) / 4);
  return (word < 0 ? word - 2 * lowest : word).toString(16).toUpperCase().padStart(digits, '0');
}

/** The value of a two's complement word; a prefix `0x` may stand before it. */
export function valueFromHex(hex: string, format: FixedPointFormat): number {
  const { lowest, highest, step } = fixedPointRange(format);
  const digits = hex.replace(/^0x/i, '');
  const unsigned = /^[0-9a-f]+$/i.test(digits) ? Number.parseInt(digits, 16) : Number.NaN;
  if (!(unsigned < -2 * lowest)) {
    throw new RangeError(
      `expected a hexadecimal word of ${format.integerBits + format.fractionBits} bits; received "${hex}"`,
    );
  }
  return (unsigned > highest ? unsigned + 2 * lowest : unsigned) * step;
}

const ROUND: Readonly<Record<FixedPointRounding, (x: number) => number>> = {
  nearest: (x) => Math.floor(x + 0.5),
  down: Math.floor,
  towardZero: Math.trunc,
};
