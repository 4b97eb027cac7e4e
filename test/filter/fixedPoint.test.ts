import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cookbookCoefficients } from '../../src/filter/cookbookCoefficients.js';
import {
  type FixedPointFormat,
  fixedPointRange,
  hexFromWord,
  toFixedPoint,
  valueFromHex,
} from '../../src/filter/fixedPoint.js';
import { hexCoefficients, roundCoefficients } from '../../src/filter/roundCoefficients.js';
import { SEED, uniform } from './filterArbitrary.js';

const FIVE_23: FixedPointFormat = { integerBits: 5, fractionBits: 23 };
const format = fc.record({
  integerBits: fc.integer({ min: 1, max: 9 }),
  fractionBits: fc.integer({ min: 0, max: 40 }),
});

describe('toFixedPoint', () => {
  it('rounds to the nearest step, ties up, and can cut off instead', () => {
    const twoBits = { integerBits: 3, fractionBits: 2 } as const;
    const all = (x: number): number[] =>
      (['nearest', 'down', 'towardZero'] as const).map(
        (rounding) => toFixedPoint(x, { ...twoBits, rounding }).value,
      );
    expect(all(1.3)).toEqual([1.25, 1.25, 1.25]);
    expect(all(1.375)).toEqual([1.5, 1.25, 1.25]);
    expect(all(-1.3)).toEqual([-1.25, -1.5, -1.25]);
    expect(all(-1.375)).toEqual([-1.25, -1.5, -1.25]);
    expect(all(-1.4)).toEqual([-1.5, -1.5, -1.25]);
    expect(Object.is(toFixedPoint(-0.01, twoBits).value, 0)).toBe(true);
  });

  it('is never off by more than half a step inside the format', () => {
    fc.assert(
      fc.property(format, uniform(-1, 1), (f, share) => {
        const { highest, step } = fixedPointRange(f);
        const x = share * highest * step;
        const { value, word, overflow } = toFixedPoint(x, f);
        expect(overflow).toBe(false);
        expect(Math.abs(value - x)).toBeLessThanOrEqual(step / 2);
        expect(value).toBe(word * step);
      }),
      SEED,
    );
  });

  it('holds what lies outside at the end of the format and says so; the lower end has one word more', () => {
    expect(toFixedPoint(16, FIVE_23)).toEqual({ word: 2 ** 27 - 1, value: 16 - 2 ** -23, overflow: true });
    expect(toFixedPoint(-16, FIVE_23)).toEqual({ word: -(2 ** 27), value: -16, overflow: false });
    expect(toFixedPoint(-16.1, FIVE_23).overflow).toBe(true);
    // Rounding alone can carry a number over the end.
    expect(toFixedPoint(16 - 2 ** -25, FIVE_23).overflow).toBe(true);
    expect(toFixedPoint(16 - 2 ** -25, { ...FIVE_23, rounding: 'down' }).overflow).toBe(false);
  });

  it('refuses what has no word, and formats that are none', () => {
    expect(() => toFixedPoint(Number.NaN, FIVE_23)).toThrow(/received NaN/);
    for (const [integerBits, fractionBits] of [
      [0, 8],
      [2, -1],
      [1.5, 4],
      [20, 31],
    ] as const) {
      expect(() => toFixedPoint(0.5, { integerBits, fractionBits })).toThrow(RangeError);
    }
  });
});

describe('hexadecimal words', () => {
  it('are two’s complement with as many digits as the format fills', () => {
    const hex = (x: number, f: FixedPointFormat = FIVE_23): string => hexFromWord(toFixedPoint(x, f).word, f);
    // 28 bits are 7 digits; 1.0 is 2^23.
    expect(hex(1)).toBe('0800000');
    expect(hex(-1)).toBe('F800000');
    expect(hex(2 ** -23)).toBe('0000001');
    expect(hex(-(2 ** -23))).toBe('FFFFFFF');
    expect(hex(-16)).toBe('8000000');
    expect(hex(16)).toBe('7FFFFFF');
    expect(hex(0.5, { integerBits: 1, fractionBits: 15 })).toBe('4000');
    expect(hex(-1, { integerBits: 1, fractionBits: 31 })).toBe('80000000');
    expect(hex(-0.25, { integerBits: 1, fractionBits: 4 })).toBe('1C');
  });

  it('read back as the value that they were written from', () => {
    fc.assert(
      fc.property(format, uniform(-1, 1), (f, share) => {
        const { word, value } = toFixedPoint(share * 2 ** (f.integerBits - 1), f);
        expect(valueFromHex(hexFromWord(word, f), f)).toBe(value);
        expect(valueFromHex(`0x${hexFromWord(word, f).toLowerCase()}`, f)).toBe(value);
      }),
      SEED,
    );
  });

  it('are refused when they are none or too long', () => {
    for (const hex of ['', '0x', '12G4', '10000000', '-1']) {
      expect(() => valueFromHex(hex, FIVE_23)).toThrow(/28 bits/);
    }
    expect(() => hexFromWord(2 ** 27, FIVE_23)).toThrow(RangeError);
    expect(() => hexFromWord(0.5, FIVE_23)).toThrow(RangeError);
  });
});

describe('roundCoefficients', () => {
  const exact = cookbookCoefficients({ type: 'peaking', frequencyHz: 80, gainDb: -5, q: 3 }, 48_000);

  it('stores the negatives of a1 and a2 where feedback is added, and runs the same filter', () => {
    const subtracted = roundCoefficients(exact, FIVE_23, 'subtracted');
    const added = roundCoefficients(exact, FIVE_23, 'added');
    expect(added.words.a1).toBe(-subtracted.words.a1);
    expect(added.words.a2).toBe(-subtracted.words.a2);
    expect(added.words.b1).toBe(subtracted.words.b1);
    expect(added.coefficients).toEqual(subtracted.coefficients);
    for (const name of ['b0', 'b1', 'b2', 'a1', 'a2'] as const) {
      expect(Math.abs(subtracted.coefficients[name] - exact[name])).toBeLessThanOrEqual(2 ** -24);
      expect(valueFromHex(hexCoefficients(added, FIVE_23)[name], FIVE_23) * (name[0] === 'a' ? -1 : 1)).toBe(
        added.coefficients[name],
      );
    }
  });

  it('names the coefficients that do not fit: +2 has no word in 2.14, −2 has', () => {
    const format = { integerBits: 2, fractionBits: 14 };
    const edge = { b0: 1, b1: -2, b2: 1, a1: -2, a2: 0.99 };
    expect(roundCoefficients(edge, format, 'subtracted').overflow).toEqual([]);
    expect(roundCoefficients(edge, format, 'added').overflow).toEqual(['a1']);
    expect(roundCoefficients({ ...edge, b0: 2.3, b2: -7 }, format).overflow).toEqual(['b0', 'b2']);
  });
});
