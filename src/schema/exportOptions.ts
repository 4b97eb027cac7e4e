import { z } from 'zod';
import type { FixedPointFormat } from '../filter/fixedPoint.js';
import { type CoefficientName, coefficientNames } from '../filter/roundCoefficients.js';
import { InputError } from '../inputError.js';
import { parseFrequencyHz } from '../units/parseFrequencyHz.js';
import { exactObject } from './exactObject.js';
import { found } from './found.js';
import { problemsMessage } from './problems.js';
import { quantity, within } from './quantity.js';

function fixedPoint(text: string | number, what: string): FixedPointFormat {
  const [, integer, fraction] = /^\s*(\d{1,2})\.(\d{1,2})\s*$/.exec(String(text)) ?? [];
  const integerBits = Number(integer);
  const fractionBits = Number(fraction);
  if (!(integerBits >= 1 && integerBits + fractionBits <= 50)) {
    throw new InputError(
      `${what}: ${found(text)}, expected integer bits (the sign among them) and fraction bits such as 5.23, at most 50 in all`,
    );
  }
  return { integerBits, fractionBits };
}

function order(text: string | number, what: string): CoefficientName[] {
  const names = String(text)
    .split(/[\s,]+/)
    .filter((name) => name !== '');
  const isComplete = names.length === 5 && coefficientNames.every((name) => names.includes(name));
  if (!isComplete) {
    throw new InputError(
      `${what}: ${found(text)}, expected each of ${coefficientNames.join(',')} once, in any order`,
    );
  }
  return names as CoefficientName[];
}

function taps(text: string | number, what: string): number {
  const value = /^\s*\d+\s*$/.test(String(text)) ? Number(text) : Number.NaN;
  if (!(value >= 16 && value <= 262_144)) {
    throw new InputError(`${what}: ${found(text)}, expected a whole number of taps from 16 to 262144`);
  }
  return value;
}

const sampleRate = quantity(within(parseFrequencyHz, 8000, 768_000, '8 kHz to 768 kHz'), 'a sample rate', [
  '48 kHz',
]);

const exportOptionsSchema = exactObject(
  {
    sampleRate: z.array(sampleRate).exactOptional(),
    fixedPoint: quantity(fixedPoint, 'a number format', ['5.23']).exactOptional(),
    order: quantity(order, 'an order of coefficients', ['b0,b1,b2,a1,a2']).exactOptional(),
    taps: quantity(taps, 'how many taps the filter has', ['16384']).exactOptional(),
  },
  'options',
);

export type ExportOptions = z.output<typeof exportOptionsSchema>;

/**
 * Reads what a user wrote beside `--format`.
 *
 * @throws InputError with every problem
 */
export function readExportOptions(
  written: Readonly<Record<string, unknown>>,
  nameOf: (field: string) => string,
): ExportOptions {
  const result = exportOptionsSchema.safeParse(written);
  if (result.success) return result.data;
  const problems = result.error.issues.map(({ path, message }) => ({
    what: nameOf(String(path[0] ?? '')),
    message,
  }));
  throw new InputError(problemsMessage('options', problems));
}
