import { InputError } from '../inputError.js';
import type { MeasuredLength } from './measuredLength.js';
import { parseLengthM } from './parseLengthM.js';
import { splitQuantity } from './parseQuantity.js';
import { quoted } from './quoted.js';
import { tidyQuantity } from './tidyQuantity.js';

const PLUS_MINUS = /±|\+ ?\/? ?-/;

/**
 * A length with an optional tolerance: "29 cm ± 2 cm", "29 ± 2 cm", "29 cm +- 2", "29 cm ± 5 %", "11.5 in", 0.29.
 * A unit that stands on one side only holds for both, where each side is a single number.
 *
 * @throws InputError saying what was found and what was expected
 * @throws UnitEngineNeeded where only the unit engine could read it and is not loaded
 */
export function parseMeasuredLength(text: string | number, what: string): MeasuredLength {
  if (typeof text === 'number') return { m: parseLengthM(text, what), toleranceM: 0 };
  const parts = tidyQuantity(text)
    .split(PLUS_MINUS)
    .map((part) => part.trim());
  const [value, tolerance] = parts;
  if (parts.length > 2 || value === '' || tolerance === '') {
    throw new InputError(
      `${what}: found ${quoted(text)}, expected a length with a tolerance such as "29 cm ± 2 cm"`,
    );
  }
  if (tolerance === undefined) return { m: parseLengthM(text, what), toleranceM: 0 };

  const percent = splitQuantity(tolerance);
  if (percent?.unit === '%') {
    const m = parseLengthM(value!, what);
    return { m, toleranceM: (m * percent.value) / 100 };
  }
  if (isBare(value!) === isBare(tolerance)) return measured(value!, tolerance, what);
  const [bare, other] = isBare(value!) ? [value!, tolerance] : [tolerance, value!];
  const unit = splitQuantity(other)?.unit;
  if (!splitQuantity(bare) || !unit) {
    throw new InputError(
      `${what}: found ${quoted(text)}, expected a unit with the length and with its tolerance, such as "29 cm ± 2 cm"`,
    );
  }
  return bare === value
    ? measured(`${value} ${unit}`, tolerance, what)
    : measured(value!, `${tolerance} ${unit}`, what);
}

function measured(value: string, tolerance: string, what: string): MeasuredLength {
  return { m: parseLengthM(value, what), toleranceM: parseLengthM(tolerance, `${what} (tolerance)`) };
}

/** Whether no unit stands in it, be it a number or an expression. */
function isBare(text: string): boolean {
  const quantity = splitQuantity(text);
  return quantity ? quantity.unit === '' : !/[\p{L}"']/u.test(text);
}
