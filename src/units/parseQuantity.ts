import { InputError } from '../inputError.js';
import { quoted } from './quoted.js';
import { readNumber } from './readNumber.js';
import { scanExpression } from './scanExpression.js';
import { tidyQuantity } from './tidyQuantity.js';
import { unitEngine } from './unitEngine.js';
import { UnitEngineNeeded } from './unitEngineNeeded.js';
import { allUnitTables, type UnitTable } from './unitTables.js';

/** A number with the spelling of its unit, lower case; '' where none was given. */
export interface Quantity {
  readonly value: number;
  readonly unit: string;
}

const NUMBER_THEN_UNIT = /^([+-]?[\d.,/ ]*?\d[.,]?(?:e[+-]?\d+)?) ?([^\d\s.,/+-][^\d\s]*)?$/i;

/** Longer than any number with its unit; a long run of digits would keep the pattern busy for hours. */
const MAX_LENGTH = 400;

/** Splits "2.5 kHz" into number and unit; undefined where it has another form. */
export function splitQuantity(text: string): Quantity | undefined {
  if (text.length > MAX_LENGTH) return undefined;
  const match = NUMBER_THEN_UNIT.exec(tidyQuantity(text));
  const value = match && readNumber(match[1]!.trim());
  return value === undefined || value === null ? undefined : { value, unit: (match![2] ?? '').toLowerCase() };
}

/**
 * A quantity as a person writes it, in the SI unit of `table`: a number with a unit of the table; else, by the
 * unit engine, one with another unit or an expression of several ("5 ft + 3 in", "343 m/s / 4 / 300 Hz").
 *
 * @param text a number in that SI unit, or text with or without a unit
 * @param what what the quantity is, for the message ("--from", "surfaces[0].speakerDistance")
 * @param limits least and greatest value that make sense, in that SI unit
 * @throws InputError saying what was found and what was expected
 * @throws UnitEngineNeeded where only the unit engine could read it and is not loaded
 */
export function parseQuantity(
  text: string | number,
  what: string,
  table: UnitTable,
  limits: { readonly min: number; readonly max: number },
): number {
  const quantity = typeof text === 'number' ? { value: text, unit: '' } : splitQuantity(text);
  const scale = quantity && (quantity.unit === '' ? { factor: 1 } : table.units.get(quantity.unit));
  const read = quantity && scale ? quantity.value * scale.factor + (scale.offset ?? 0) : undefined;
  const value = read ?? reckoned(String(text), quantity?.unit, what, table);
  if (!(value >= limits.min && value <= limits.max)) {
    const size = read === undefined ? `${Number(value.toPrecision(6))} ${table.si} and so ` : '';
    throw new InputError(
      `${what}: found ${quoted(text)}, which is ${size}out of bounds (${boundsWords(limits, table)}); expected ${table.kind} such as ${table.examples}`,
    );
  }
  return value;
}

function boundsWords({ min, max }: { readonly min: number; readonly max: number }, table: UnitTable): string {
  const from = min === Number.MIN_VALUE ? 'more than 0' : String(min);
  return `${from} to ${max} ${table.si ?? 'dB'}`;
}

/** @param unit where it is a single number with a unit that `table` lacks */
function reckoned(text: string, unit: string | undefined, what: string, table: UnitTable): number {
  const refuse = (reason = commaHint(text)): never => {
    const hint = reason === undefined ? '' : ` (${reason})`;
    throw new InputError(
      `${what}: found ${quoted(text)}, expected ${table.kind} such as ${table.examples}${hint}`,
    );
  };
  if (unit !== undefined && allUnitTables.some(({ units }) => units.has(unit))) {
    return refuse('it is another kind of quantity');
  }
  const expression = table.si === undefined ? undefined : scanExpression(text);
  if (!expression) return refuse();
  const engine = unitEngine();
  if (!engine) throw new UnitEngineNeeded(text);
  return engine(expression, table, refuse);
}

function commaHint(text: string): string | undefined {
  const ambiguous = /\d,\d{3}(?!\d)/.test(text);
  return ambiguous ? 'a comma before three digits can mean two things: write 1000 or 1.000' : undefined;
}
