import { readNumber } from './readNumber.js';
import { tidyQuantity } from './tidyQuantity.js';

/** An expression of quantities in which every unit has given way to a name: "5 ft + 3 in" is `(5*u0)+(3*u1)`. */
export interface Expression {
  /** Numbers, `+ - * / ^ ( )` and the names u0, u1, … */
  readonly formula: string;
  /** The units as they were written; u0 stands for the first. */
  readonly units: readonly string[];
}

/** Longer than any sum that a person would write instead of a number. */
const MAX_LENGTH = 100;

const DECIMAL = /(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:e[+-]?\d+)?/y;
/** Whole numbers without spaces about the stroke, and no further stroke: "3/4", "11 1/2", but not the 4/3 of "1/4/3". */
const FRACTION = /(?:\d+ )?\d+\/\d+(?! ?[\d.,/])/y;
const UNIT = / ?(["']|[\p{L}°]+)(?:\.(?!\d))?/uy;
const POWER = /\^[+-]?\d+/y;
/** Binds closer than the strokes and points between quantities: "300 m / 343 m/s". */
const NEXT_UNIT = /[*/](?=\p{L})/uy;
const FEET = /^(?:'|ft|foot|feet)$/i;
const INCHES = / ?((?:\d+ )?\d+\/\d+|\d+(?:[.,]\d+)?) ?("|in\b|inch\b|inches\b)\.?/iy;
const OPERATOR = /[-+*/^()]/y;
const SPACE = / +/y;

/**
 * Splits what a person wrote into numbers, units and operators, with the reading that people expect: a number and
 * its unit belong together whatever stands before them ("343 m/s / 4 / 300 Hz" is 343 m/s ÷ 4 ÷ (300 Hz)), and so
 * do feet and inches ("10 ft - 5 ft 3 in").
 *
 * @returns undefined where it is no such expression, whatever its words mean
 */
export function scanExpression(text: string): Expression | undefined {
  if (text.length > MAX_LENGTH) return undefined;
  const tidy = tidyQuantity(text).replace(/[×·]/g, '*').replace(/÷/g, '/');
  const units: string[] = [];
  const parts: string[] = [];
  let at = 0;
  const take = (pattern: RegExp): RegExpExecArray | null => {
    pattern.lastIndex = at;
    const match = pattern.exec(tidy);
    if (match) at = pattern.lastIndex;
    return match;
  };
  const nameOf = (unit: string): string => `u${units.push(unit) - 1}`;
  /** The unit after a number: "m", "m/s", "s^-1". */
  const unit = (): string => {
    const word = take(UNIT)?.[1];
    if (word === undefined) return '';
    const power = nameOf(word) + (take(POWER)?.[0] ?? '');
    const operator = take(NEXT_UNIT)?.[0];
    return operator === undefined ? power : power + operator + unit();
  };

  let hasNumber = false;
  while (at < tidy.length) {
    if (take(SPACE)) continue;
    const before = parts.at(-1);
    const number = (before === '/' || before === '^' ? null : take(FRACTION)) ?? take(DECIMAL);
    if (number) {
      const value = readNumber(number[0]);
      if (value === undefined) return undefined;
      hasNumber = true;
      const written = unit();
      const inches = FEET.test(units.at(-1) ?? '') && /^u\d+$/.test(written) ? take(INCHES) : null;
      if (inches) {
        const more = readNumber(inches[1]!);
        if (more === undefined) return undefined;
        parts.push(`(${value}*${written}+${more}*${nameOf(inches[2]!)})`);
      } else {
        parts.push(written === '' ? `${value} ` : `(${value}*${written})`);
      }
      continue;
    }
    const operator = take(OPERATOR)?.[0];
    const part = operator ?? unit();
    if (part === '') return undefined;
    parts.push(operator ?? `${part} `);
  }
  return hasNumber ? { formula: parts.join(''), units } : undefined;
}
