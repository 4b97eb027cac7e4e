import { InputError } from '../inputError.js';
import type { Warning } from '../warning.js';
import { curveOfRows } from './curveOfRows.js';
import { type DataTable, findTable } from './findTable.js';
import type { Measurement } from './measurement.js';
import { type DecimalMark, parseDecimal } from './parseDecimal.js';
import { plural, refuseLine } from './refuseLine.js';
import { rowFields, splitRow } from './rowSplitter.js';
import { commentStart, countLines, decodeText, type TextLine, textLines } from './textLines.js';
import {
  areThousands,
  endsOf,
  looksParted,
  thousandsHint,
  withoutThousands,
  writingOf,
} from './thousands.js';
import { utf8Bytes } from './utf8Bytes.js';

const ZERO = 0x30;
/** A straight line. */
const MIN_ROWS = 2;
const MIN_DIFFERENT = 8;
const MAX_ROWS = 2_000_000;
const MAX_COMMENTS = 100;
/** No dB scale reaches this; what does is no level. */
const MAX_LEVEL_DB = 1000;
/** No measurement of sound reaches beyond these; a grid over the octaves between would not end. */
const MIN_FREQUENCY_HZ = 1e-4;
const MAX_FREQUENCY_HZ = 1e7;
/** A million turns; beyond it a degree is lost in the rounding. */
const MAX_PHASE_RAD = 2e6 * Math.PI;

/**
 * Reads two or three columns of text: frequency, level, and optionally phase in degrees. Space, tab, comma or
 * semicolon between them; decimal comma where the separator is no comma; headings and comments (`#`, `;`, `//`,
 * words before the data); rows in any order; UTF-8 or UTF-16; any line end. A heading that names the columns or
 * kHz is followed. Rows of one frequency are averaged. The warnings tell of columns not used and of a unit that
 * looks wrong: what any such curve may have, be it a measurement, a microphone's calibration or a target.
 *
 * @param bytes the whole file
 * @param fileName as it shall stand in messages
 * @param minRows least number of rows
 * @throws InputError naming file, line, what was found and what was expected
 */
export function readCurveText(bytes: Uint8Array, fileName: string, minRows = MIN_ROWS): CurveText {
  const text = utf8Bytes(bytes, fileName);
  const table = findTable(text, fileName);
  const { rows, comments, frequencyHz, levelDb, phaseRad } = readRows(text, fileName, table);
  if (rows < minRows) {
    throw new InputError(`${fileName}: found ${plural(rows, 'row')} of data, expected at least ${minRows}`);
  }
  const curve = curveOfRows(frequencyHz, levelDb, phaseRad);
  const different = curve.frequencyHz.length;
  const needed = Math.min(minRows, MIN_DIFFERENT);
  if (different < needed) {
    throw new InputError(
      `${fileName}: found only ${plural(different, 'frequency', 'different frequencies')} in ${rows} rows, expected at least ${needed}`,
    );
  }
  return {
    curve,
    comments: [...table.headings, ...comments].slice(0, MAX_COMMENTS),
    rows,
    warnings: [...table.warnings, ...unitWarnings(fileName, table, curve.frequencyHz)],
  };
}

/** A curve as its file has it. */
export type CurveText = Pick<Measurement, 'curve' | 'comments' | 'rows' | 'warnings'>;

interface Rows {
  readonly rows: number;
  readonly comments: readonly string[];
  readonly frequencyHz: Float64Array;
  readonly levelDb: Float64Array;
  readonly phaseRad: Float64Array | undefined;
}

function readRows(
  text: Uint8Array,
  fileName: string,
  { firstRow, separator, columns, plan }: DataTable,
): Rows {
  const capacity = Math.min(MAX_ROWS, countLines(text));
  const frequencyHz = new Float64Array(capacity);
  const levelDb = new Float64Array(capacity);
  const phaseRad = plan.phase === undefined ? undefined : new Float64Array(capacity);
  const comments: string[] = [];
  const fields = rowFields();
  const mark: DecimalMark = { byte: 0 };
  const value = (column: number) => parseDecimal(text, fields.start[column]!, fields.end[column]!, mark);
  const writing = () => writingOf(text, fields.start[plan.frequency]!, fields.end[plan.frequency]!);
  /** What stands before a level may be no decimals at all. */
  const markedInRow = () => (writing() === 'threeDigits' ? fieldText(plan.frequency) : undefined);
  const fieldText = (column: number) => decodeText(text, fields.start[column]!, fields.end[column]!);
  const span = (column: number) => ({ start: fields.start[column]!, end: fields.end[column]! });
  const refuse = (line: TextLine, problem: string, expected?: string) =>
    refuseLine(fileName, text, line, problem, expected);
  let rows = 0;
  // Which frequencies have three digits after a mark, as long as all others are whole numbers.
  let threeDigits: Uint8Array | undefined = new Uint8Array(capacity);
  let firstMarked: TextLine | undefined;
  // Whether all rows may have lost a column to the thousands of their frequencies, and one cannot but have: "1 016".
  let parted = columns === 3 && plan.frequency === 0 && plan.level === 1;
  let firstParted: TextLine | undefined;

  for (const line of textLines(text, firstRow)) {
    if (line.start === line.end) continue;
    const words = commentStart(text, line);
    if (words !== undefined) {
      if (comments.length < MAX_COMMENTS) comments.push(decodeText(text, words, line.end));
      continue;
    }
    splitRow(text, line.start, line.end, separator, fields);
    if (fields.count !== columns) {
      const isParted = fields.count === columns + 1 && looksParted(text, span(0), span(1));
      const hint = isParted ? ' (thousands are written without a mark or space)' : '';
      throw refuse(
        line,
        `it has ${plural(fields.count, 'column')} where the first row has ${columns}${hint}`,
      );
    }
    const hz = value(plan.frequency) * plan.frequencyFactor;
    const db = value(plan.level);
    const phase = plan.phase === undefined ? 0 : value(plan.phase) * plan.phaseFactor;
    if (Number.isNaN(hz)) throw refuse(line, notANumber('frequency', fieldText(plan.frequency), mark, rows));
    if (!(hz > 0)) throw refuse(line, `frequency ${fieldText(plan.frequency)} is not positive`);
    if (hz < MIN_FREQUENCY_HZ || hz > MAX_FREQUENCY_HZ)
      throw refuse(line, `frequency ${fieldText(plan.frequency)} is none of a measurement of sound`);
    if (Number.isNaN(db))
      throw refuse(line, notANumber('level', fieldText(plan.level), mark, rows, markedInRow()));
    if (Math.abs(db) > MAX_LEVEL_DB) throw refuse(line, `level ${fieldText(plan.level)} is no level in dB`);
    if (Number.isNaN(phase)) throw refuse(line, notANumber('phase', fieldText(plan.phase!), mark, rows));
    if (Math.abs(phase) > MAX_PHASE_RAD)
      throw refuse(line, `phase ${fieldText(plan.phase!)} is more than a million turns`);
    if (rows === MAX_ROWS)
      throw refuse(line, `it is row ${MAX_ROWS + 1} of the data`, `expected at most ${MAX_ROWS} rows`);
    frequencyHz[rows] = hz;
    levelDb[rows] = db;
    if (phaseRad) phaseRad[rows] = phase;
    if (parted) {
      parted = looksParted(text, span(0), span(1));
      if (parted && text[fields.start[1]!] === ZERO) firstParted ??= { ...line };
    }
    if (threeDigits) {
      const written = writing();
      if (written === 'other') threeDigits = undefined;
      else if (written === 'threeDigits') {
        threeDigits[rows] = 1;
        firstMarked ??= { ...line };
      }
    }
    rows++;
  }
  const read = frequencyHz.subarray(0, rows);
  if (threeDigits && firstMarked && areThousands(read, threeDigits.subarray(0, rows))) {
    const { fromHz, toHz } = endsOf(read);
    throw threeDigits.subarray(0, rows).every((one) => one === 1)
      ? refuse(
          firstMarked,
          `its frequency and all others have three digits after a mark, as if they were ${fromHz} to ${toHz} Hz`,
          'expected frequencies in Hz without a mark between the thousands, such as 1016 or 20000, or a heading that names their unit, such as "frequency (kHz)"',
        )
      : refuse(
          firstMarked,
          'its frequency has a mark between the thousands, which stands before decimals elsewhere',
          'expected frequencies without one, such as 1016 or 20000',
        );
  }
  if (parted && firstParted)
    throw refuse(
      firstParted,
      'its frequency has a mark or a space between the thousands, which parts columns here',
      'expected frequencies without one, such as 1016 or 20000',
    );
  return {
    rows,
    comments,
    frequencyHz: read,
    levelDb: levelDb.subarray(0, rows),
    phaseRad: phaseRad?.subarray(0, rows),
  };
}

/** @param marked the frequency beside it, where that could be thousands with a mark */
function notANumber(
  name: string,
  text: string,
  mark: DecimalMark,
  rowsBefore: number,
  marked?: string,
): string {
  const other = mark.byte === 0x2c ? '.' : ',';
  const plain = thousandsHint(text);
  const mixed = mark.byte !== 0 && text.includes(other);
  const before = rowsBefore === 0 ? 'what stands before it has' : 'the rows before it have';
  const meant = marked === undefined ? undefined : withoutThousands(marked);
  const hints = [
    ...(mixed ? [`${before} "${other === '.' ? ',' : '.'}" before the decimals`] : []),
    ...(mixed && meant !== undefined
      ? [`where "${marked}" means ${meant}, thousands are written without a mark`]
      : []),
    ...(plain === undefined ? [] : [plain]),
  ];
  return `${name} "${text}" is not a finite number${hints.length > 0 ? ` (${hints.join('; ')})` : ''}`;
}

/** Rows of 0.02 … 20 without a word about kHz are more likely kHz than a measurement of infrasound. */
function unitWarnings(fileName: string, { plan }: DataTable, frequencyHz: Float64Array): Warning[] {
  const highestHz = frequencyHz[frequencyHz.length - 1]!;
  if (plan.frequencyFactor !== 1 || highestHz > 50) return [];
  return [
    {
      code: 'frequency-unit-suspect',
      message: `${fileName} ends at ${highestHz} Hz. If its frequencies are in kHz, name the column "frequency (kHz)" in a heading line.`,
    },
  ];
}
