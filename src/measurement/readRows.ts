import type { DataTable } from './findTable.js';
import { type DecimalMark, parseDecimal } from './parseDecimal.js';
import { plural, refuseLine } from './refuseLine.js';
import { rowProblem } from './rowProblem.js';
import { rowFields, splitRow } from './rowSplitter.js';
import { commentStart, countLines, decodeText, type TextLine, textLines } from './textLines.js';
import { looksParted } from './thousands.js';
import { watchThousands } from './thousandsWatch.js';

const MAX_ROWS = 2_000_000;
export const MAX_COMMENTS = 100;

/** The rows of a table in the order of its file, and the comments among and after them. */
export interface Rows {
  readonly rows: number;
  readonly comments: readonly string[];
  readonly frequencyHz: Float64Array;
  readonly levelDb: Float64Array;
  readonly phaseRad: Float64Array | undefined;
}

/** @throws InputError naming file, line, what was found and what was expected */
export function readRows(text: Uint8Array, fileName: string, table: DataTable): Rows {
  const { firstRow, separator, columns, plan } = table;
  const capacity = Math.min(MAX_ROWS, countLines(text));
  const frequencyHz = new Float64Array(capacity);
  const levelDb = new Float64Array(capacity);
  const phaseRad = plan.phase === undefined ? undefined : new Float64Array(capacity);
  const comments: string[] = [];
  const fields = rowFields();
  const mark: DecimalMark = { byte: 0 };
  const row = { text, fields, plan, mark };
  const value = (column: number) => parseDecimal(text, fields.start[column]!, fields.end[column]!, mark);
  const refuse = (line: TextLine, problem: string, expected?: string) =>
    refuseLine(fileName, text, line, problem, expected);
  const thousands = watchThousands(row, columns, capacity);
  let rows = 0;
  let allParted = true;

  for (const line of textLines(text, firstRow)) {
    if (line.start === line.end) continue;
    const words = commentStart(text, line);
    if (words !== undefined) {
      if (comments.length < MAX_COMMENTS) comments.push(decodeText(text, words, line.end));
      continue;
    }
    splitRow(text, line.start, line.end, separator, fields);
    if (fields.count !== columns) {
      const isParted = fields.count === columns + 1 && looksParted(text, fields);
      const wereParted = rows > 0 && fields.count === columns - 1 && allParted;
      const hint = isParted
        ? ' (thousands are written without a mark or space)'
        : wereParted
          ? ' (in the rows before it a mark or space between the thousands parts columns; thousands are written without)'
          : '';
      throw refuse(
        line,
        `it has ${plural(fields.count, 'column')} where the first row has ${columns}${hint}`,
      );
    }
    const hz = value(plan.frequency) * plan.frequencyFactor;
    const db = value(plan.level);
    const phase = plan.phase === undefined ? 0 : value(plan.phase) * plan.phaseFactor;
    const problem = rowProblem(row, hz, db, phase, rows);
    if (problem !== undefined) throw refuse(line, problem);
    if (rows === MAX_ROWS)
      throw refuse(line, `it is row ${MAX_ROWS + 1} of the data`, `expected at most ${MAX_ROWS} rows`);
    frequencyHz[rows] = hz;
    levelDb[rows] = db;
    if (phaseRad) phaseRad[rows] = phase;
    thousands.saw(line);
    allParted &&= looksParted(text, fields);
    rows++;
  }
  const read = frequencyHz.subarray(0, rows);
  const found = thousands.found(read);
  if (found) throw refuse(found.line, found.problem, found.expected);
  return {
    rows,
    comments,
    frequencyHz: read,
    levelDb: levelDb.subarray(0, rows),
    phaseRad: phaseRad?.subarray(0, rows),
  };
}
