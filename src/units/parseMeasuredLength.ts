import { InputError } from '../inputError.js';
import type { MeasuredLength } from './measuredLength.js';
import { parseLengthM } from './parseLengthM.js';
import { splitQuantity } from './parseQuantity.js';
import { tidyQuantity } from './tidyQuantity.js';

const PLUS_MINUS = /±|\+ ?\/? ?-/;

/**
 * A length with an optional tolerance: "29 cm ± 2 cm", "29 ± 2 cm", "29 cm +- 2", "29 cm ± 5 %", "11.5 in", 0.29.
 * A unit that stands on one side only holds for both.
 *
 * @throws InputError saying what was found and what was expected
 */
export function parseMeasuredLength(text: string | number, what: string): MeasuredLength {
  if (typeof text === 'number') return { m: parseLengthM(text, what), toleranceM: 0 };
  const parts = tidyQuantity(text)
    .split(PLUS_MINUS)
    .map((part) => part.trim());
  const [value, tolerance] = parts;
  if (parts.length > 2 || value === '' || tolerance === '') {
    throw new InputError(
      `${what}: found "${text}", expected a length with a tolerance such as "29 cm ± 2 cm"`,
    );
  }
  if (tolerance === undefined) return { m: parseLengthM(text, what), toleranceM: 0 };

  const percent = splitQuantity(tolerance);
  if (percent?.unit === '%') {
    const m = parseLengthM(value!, what);
    return { m, toleranceM: (m * percent.value) / 100 };
  }
  const unitOf = (part: string) => splitQuantity(part)?.unit;
  const withUnitOf = (part: string, other: string) =>
    unitOf(part) === '' ? `${part} ${unitOf(other) ?? ''}`.trim() : part;
  return {
    m: parseLengthM(withUnitOf(value!, tolerance), what),
    toleranceM: parseLengthM(withUnitOf(tolerance, value!), `${what} (tolerance)`),
  };
}
