import { notANumber } from './notANumber.js';
import type { Row } from './row.js';
import { decodeText } from './textLines.js';
import { writingOf } from './thousands.js';

/** No dB scale reaches this; what does is no level. */
const MAX_LEVEL_DB = 1000;
/** No measurement of sound reaches beyond these; a grid over the octaves between would not end. */
const MIN_FREQUENCY_HZ = 1e-4;
const MAX_FREQUENCY_HZ = 1e7;
/** A million turns; beyond it a degree is lost in the rounding. */
const MAX_PHASE_RAD = 2e6 * Math.PI;

/** What is wrong with the numbers of a row, NaN where a field is none; undefined where nothing is. */
export function rowProblem(
  row: Row,
  hz: number,
  db: number,
  phase: number,
  rowsBefore: number,
): string | undefined {
  const { plan, mark } = row;
  if (Number.isNaN(hz)) return notANumber('frequency', textOf(row, plan.frequency), mark, rowsBefore);
  if (!(hz > 0))
    return `frequency ${textOf(row, plan.frequency)} is not positive${hz === 0 ? ' (0 Hz is on no octave: leave this row out)' : ''}`;
  if (hz < MIN_FREQUENCY_HZ || hz > MAX_FREQUENCY_HZ)
    return `frequency ${textOf(row, plan.frequency)} is none of a measurement of sound`;
  if (Number.isNaN(db))
    return notANumber('level', textOf(row, plan.level), mark, rowsBefore, markedFrequency(row));
  if (Math.abs(db) > MAX_LEVEL_DB) return `level ${textOf(row, plan.level)} is no level in dB`;
  if (Number.isNaN(phase)) return notANumber('phase', textOf(row, plan.phase!), mark, rowsBefore);
  if (Math.abs(phase) > MAX_PHASE_RAD)
    return `phase ${textOf(row, plan.phase!)} is more than a million turns`;
  return undefined;
}

function textOf({ text, fields }: Row, column: number): string {
  return decodeText(text, fields.start[column]!, fields.end[column]!);
}

/** The frequency where its mark may stand before no decimals at all. */
function markedFrequency(row: Row): string | undefined {
  const { text, fields, plan } = row;
  const { frequency } = plan;
  const written = writingOf(text, fields.start[frequency]!, fields.end[frequency]!);
  return written === 'threeDigits' ? textOf(row, frequency) : undefined;
}
