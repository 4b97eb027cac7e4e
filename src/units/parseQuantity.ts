import { InputError } from '../inputError.js';
import { readNumber } from './readNumber.js';
import { tidyQuantity } from './tidyQuantity.js';
import type { UnitTable } from './unitTables.js';

/** A number with the spelling of its unit, lower case; '' where none was given. */
export interface Quantity {
  readonly value: number;
  readonly unit: string;
}

const NUMBER_THEN_UNIT = /^([+-]?[\d.,/ ]*?\d[.,]?(?:e[+-]?\d+)?) ?([^\d\s.,/+-][^\d\s]*)?$/i;

/** Splits "2.5 kHz" into number and unit; undefined where it has another form. */
export function splitQuantity(text: string): Quantity | undefined {
  const match = NUMBER_THEN_UNIT.exec(tidyQuantity(text));
  const value = match && readNumber(match[1]!.trim());
  return value === undefined || value === null ? undefined : { value, unit: (match![2] ?? '').toLowerCase() };
}

/**
 * A quantity as a person writes it, in the SI unit of `table`.
 *
 * @param text a number in that SI unit, or text with or without a unit
 * @param what what the quantity is, for the message ("--from", "surfaces[0].speakerDistance")
 * @param limits least and greatest value that make sense, in that SI unit
 * @throws InputError saying what was found and what was expected
 */
export function parseQuantity(
  text: string | number,
  what: string,
  table: UnitTable,
  limits: { readonly min: number; readonly max: number },
): number {
  const quantity = typeof text === 'number' ? { value: text, unit: '' } : splitQuantity(text);
  const scale = quantity && (quantity.unit === '' ? { factor: 1 } : table.units.get(quantity.unit));
  if (!quantity || !scale) throw new InputError(`${what}: ${unreadable(text, table)}`);
  const value = quantity.value * scale.factor + (scale.offset ?? 0);
  if (!(value >= limits.min && value <= limits.max)) {
    throw new InputError(
      `${what}: found ${quoted(text)}, which is out of bounds; expected ${table.kind} such as ${table.examples}`,
    );
  }
  return value;
}

/** "found …, expected …" for a quantity that cannot be read. */
function unreadable(text: string | number, table: UnitTable): string {
  const ambiguous = typeof text === 'string' && /\d,\d{3}(?!\d)/.test(text);
  const hint = ambiguous ? ' (a comma before three digits can mean two things: write 1000 or 1.000)' : '';
  return `found ${quoted(text)}, expected ${table.kind} such as ${table.examples}${hint}`;
}

const quoted = (text: string | number) => (typeof text === 'number' ? String(text) : `"${text}"`);
