import { InputError } from '../inputError.js';
import type { Warning } from '../warning.js';
import { curveOfRows } from './curveOfRows.js';
import { type DataTable, findTable } from './findTable.js';
import type { Measurement } from './measurement.js';
import { MAX_COMMENTS, readRows } from './readRows.js';
import { plural } from './refuseLine.js';
import { utf8Bytes } from './utf8Bytes.js';

/** A straight line. */
const MIN_ROWS = 2;
const MIN_DIFFERENT = 8;

/**
 * Reads two or three columns of text: frequency, level, and optionally phase in degrees. Space, tab, comma or
 * semicolon between them; decimal comma where the separator is no comma; headings and comments (`#`, `;`, `//`,
 * words before the data); rows in any order; UTF-8 or UTF-16; any line end. A heading that names the columns or
 * kHz or rad/s is followed. Rows of one frequency are averaged. The warnings tell of columns not used and of a unit that
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
