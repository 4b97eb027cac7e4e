import { InputError } from '../inputError.js';
import type { Warning } from '../warning.js';
import { type ColumnPlan, defaultColumns, namedColumns } from './columnPlan.js';
import { parseDecimal } from './parseDecimal.js';
import { plural, refuseLine } from './refuseLine.js';
import { type RowFields, rowFields, type Separator, separatorOf, splitRow } from './rowSplitter.js';
import { commentStart, decodeText, type TextLine, textLines } from './textLines.js';
import { looksParted, thousandsHint, withoutThousands } from './thousands.js';

/** Where the data of a file start and how they are laid out. */
export interface DataTable {
  readonly firstRow: TextLine;
  readonly separator: Separator;
  readonly columns: number;
  readonly plan: ColumnPlan;
  /** Lines before the data, comment markers taken off. */
  readonly headings: readonly string[];
  readonly warnings: readonly Warning[];
}

const NOT_FINITE = /^[+\-−]?(?:nan|inf(?:inity)?|∞|1\.#\w+)$/i;
/** A number with its unit in the same field. */
const WITH_UNIT = /^[+-]?\d[\d.,]*k?hz$/i;
const UNIT = /^(?:k?hz|db\w*|deg\w*|°)$/i;
const MAX_HEADINGS = 1000;
const POINT = 0x2e;
const MAX_FIELD_BYTES = 200;

/**
 * Finds the first row of data: the first line without a comment marker whose fields are numbers (finite or not).
 * Everything before it is heading, unless it looks like a row itself that is broken.
 *
 * @throws InputError where there is no data, a row before it is broken, or the columns make no sense
 */
export function findTable(bytes: Uint8Array, fileName: string): DataTable {
  const fields = rowFields();
  const headings: string[] = [];
  const headingLines: number[] = [];
  const unmarked: TextLine[] = [];
  for (const line of textLines(bytes)) {
    if (line.start === line.end) continue;
    const words = commentStart(bytes, line);
    if (words === undefined) {
      const separator = separatorOf(bytes, line.start, line.end);
      splitRow(bytes, line.start, line.end, separator, fields);
      if (isRow(bytes, fields, headings)) {
        refuseBrokenRows(fileName, bytes, unmarked, separator, fields.count);
        const table = tableFrom(fileName, bytes, line, separator, fields, headings, unmarked);
        refuseUnits(fileName, table, headingLines);
        return table;
      }
      if (unmarked.length < MAX_HEADINGS) unmarked.push(line);
    }
    if (headings.length < MAX_HEADINGS) {
      headings.push(decodeText(bytes, words ?? line.start, line.end));
      headingLines.push(line.number);
    }
  }
  const suspect = unmarked.find((line) => startsWith(meansNumber, bytes, line)) ?? unmarked[0];
  if (suspect) {
    splitRow(bytes, suspect.start, suspect.end, separatorOf(bytes, suspect.start, suspect.end), fields);
    const hint = hasUnits(bytes, fields)
      ? 'units are left out of the rows'
      : thousandsHint(fieldText(bytes, fields, 0));
    throw refuseLine(
      fileName,
      bytes,
      suspect,
      `it is no row of two or three numbers${hint === undefined ? '' : ` (${hint})`}`,
    );
  }
  throw new InputError(`${fileName}: found no rows of data, expected rows of frequency and level`);
}

function isRow(bytes: Uint8Array, fields: RowFields, headings: readonly string[]): boolean {
  const numeric = (column: number) => isNumber(bytes, fields, column);
  if (fields.count < 2 || !numeric(0) || !numeric(1)) return false;
  for (let column = 2; column < Math.min(fields.count, fields.start.length); column++) {
    if (!numeric(column)) return namedColumns(headings, fields.count) !== undefined;
  }
  return true;
}

function isNumber(bytes: Uint8Array, fields: RowFields, column: number): boolean {
  const start = fields.start[column]!;
  const end = fields.end[column]!;
  if (!Number.isNaN(parseDecimal(bytes, start, end, { byte: 0 }))) return true;
  return end - start < 12 && NOT_FINITE.test(decodeText(bytes, start, end));
}

/** Bounded, since a field of a heading may be as long as the file. */
function fieldText(bytes: Uint8Array, fields: RowFields, column: number): string {
  if (column >= fields.count) return '';
  const start = fields.start[column]!;
  return decodeText(bytes, start, Math.min(fields.end[column]!, start + MAX_FIELD_BYTES));
}

/** What a person takes for a number, though it is not read as one: "20,000.5", "20'000", "100Hz". */
function meansNumber(bytes: Uint8Array, fields: RowFields, column: number): boolean {
  if (isNumber(bytes, fields, column)) return true;
  const text = fieldText(bytes, fields, column);
  return withoutThousands(text) !== undefined || WITH_UNIT.test(text);
}

/** "20 Hz 41.8 dB" and "20Hz 41.8dB" */
function hasUnits(bytes: Uint8Array, fields: RowFields): boolean {
  const texts = Array.from({ length: Math.min(fields.count, fields.start.length) }, (_, column) =>
    fieldText(bytes, fields, column),
  );
  return (
    WITH_UNIT.test(texts[0] ?? '') || (isNumber(bytes, fields, 0) && texts.some((text) => UNIT.test(text)))
  );
}

function startsWith(what: typeof isNumber, bytes: Uint8Array, line: TextLine): boolean {
  const fields = rowFields();
  splitRow(bytes, line.start, line.end, separatorOf(bytes, line.start, line.end), fields);
  return fields.count > 0 && what(bytes, fields, 0);
}

/** A line before the data that has as many columns as they have and starts with what means a number is a row, not a heading. */
function refuseBrokenRows(
  fileName: string,
  bytes: Uint8Array,
  lines: readonly TextLine[],
  separator: Separator,
  columns: number,
): void {
  const fields = rowFields();
  for (const line of lines) {
    splitRow(bytes, line.start, line.end, separator, fields);
    if (fields.count !== columns || !meansNumber(bytes, fields, 0)) continue;
    const wrong = [...Array(columns).keys()].filter((column) => !isNumber(bytes, fields, column));
    // "1kHz reference" is words; "1'000 80.5" is a row.
    if (wrong[0] === 0 && wrong.length > 1) continue;
    const bad = wrong[0] ?? 0;
    const text = fieldText(bytes, fields, bad);
    const hint = thousandsHint(text);
    throw refuseLine(
      fileName,
      bytes,
      line,
      `"${text}" is not a number${hint === undefined ? '' : ` (${hint})`}`,
    );
  }
}

function refuseUnits(fileName: string, table: DataTable, headingLines: readonly number[]): void {
  const { headings, columns, plan } = table;
  const { linearUnit, perSample } = plan;
  if (linearUnit === undefined && perSample === undefined) return;
  const at = headings.findLastIndex((heading) => namedColumns([heading], columns));
  const problem =
    perSample === undefined
      ? `found levels in "${linearUnit}", expected levels in dB`
      : `found frequencies by the sample ("${perSample}"), which no sample rate is told of, expected Hz, kHz or rad/s`;
  throw new InputError(`${fileName} line ${headingLines[at]}: ${problem}`);
}

/** What may have made more columns of a row than there are: decimal commas, or thousands in two parts. */
function columnsHint(bytes: Uint8Array, row: TextLine, separator: Separator, fields: RowFields): string {
  const hasPoint = bytes.subarray(row.start, row.end).includes(POINT);
  if (separator === 'comma' && !hasPoint) return ' (with decimal commas, part the columns by semicolons)';
  if (!looksParted(bytes, fields)) return '';
  const both = decodeText(bytes, fields.start[0]!, fields.end[1]!);
  return ` (where "${both}" is one frequency: thousands are written without a mark or space)`;
}

function tableFrom(
  fileName: string,
  bytes: Uint8Array,
  firstRow: TextLine,
  separator: Separator,
  fields: RowFields,
  headings: readonly string[],
  unmarked: readonly TextLine[],
): DataTable {
  const columns = fields.count;
  const named = namedColumns(headings, columns);
  if (columns > 3 && !named) {
    throw refuseLine(
      fileName,
      bytes,
      firstRow,
      `it has ${plural(columns, 'column')} and no heading names them${columnsHint(bytes, firstRow, separator, fields)}`,
      'expected two or three: frequency, level and optionally phase',
    );
  }
  const plan = named ?? defaultColumns(columns);
  const numbered = unmarked.filter((line) => startsWith(isNumber, bytes, line));
  const warnings: Warning[] = numbered.slice(0, 1).map((line) => ({
    code: 'heading-starts-with-number',
    message: `${fileName} line ${line.number} stands before the data and starts with a number; it was taken for a heading and not for a row.`,
  }));
  if (plan.unused.length > 0) {
    const names = plan.unused.map((name) => `"${name}"`).join(', ');
    warnings.push({
      code: 'column-ignored',
      message: `${fileName} has columns that are neither frequency, level nor phase; they were not used: ${names}.`,
    });
  }
  return { firstRow, separator, columns, plan, headings, warnings };
}
