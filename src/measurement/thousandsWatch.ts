import type { Row } from './row.js';
import type { TextLine } from './textLines.js';
import { areThousands, endsOf, looksParted, writingOf } from './thousands.js';

const ZERO = 0x30;
const WITHOUT = 'expected frequencies without one, such as 1016 or 20000';

/** Watches the rows of a file for frequencies whose thousands were not read as such. */
export interface ThousandsWatch {
  /** To be told of every row, after it was read. */
  saw(line: TextLine): void;
  /** What is to be refused once all rows were read, whose frequencies these are. */
  found(frequencyHz: Float64Array): FoundThousands | undefined;
}

/** What is wrong with a line, and what was expected. */
export interface FoundThousands {
  readonly line: TextLine;
  readonly problem: string;
  readonly expected: string;
}

/** @param capacity greatest number of rows */
export function watchThousands(row: Row, columns: number, capacity: number): ThousandsWatch {
  const marked = watchMarks(row, capacity);
  const parted = watchParting(row, columns);
  return {
    saw(line) {
      marked.saw(line);
      parted.saw(line);
    },
    found: (frequencyHz) => marked.found(frequencyHz) ?? parted.found(frequencyHz),
  };
}

/** "1,016" and "16.000", as long as all other frequencies are whole numbers. */
function watchMarks({ text, fields, plan }: Row, capacity: number): ThousandsWatch {
  let threeDigits: Uint8Array | undefined = new Uint8Array(capacity);
  let first: TextLine | undefined;
  let rows = 0;
  return {
    saw(line) {
      if (!threeDigits) return;
      const written = writingOf(text, fields.start[plan.frequency]!, fields.end[plan.frequency]!);
      if (written === 'other') threeDigits = undefined;
      else if (written === 'threeDigits') {
        threeDigits[rows] = 1;
        first ??= { ...line };
      }
      rows++;
    },
    found(frequencyHz) {
      const marked = threeDigits?.subarray(0, rows);
      if (!marked || !first || !areThousands(frequencyHz, marked)) return undefined;
      if (marked.includes(0))
        return {
          line: first,
          problem: 'its frequency has a mark between the thousands, which stands before decimals elsewhere',
          expected: WITHOUT,
        };
      const { fromHz, toHz } = endsOf(frequencyHz);
      return {
        line: first,
        problem: `its frequency and all others have three digits after a mark, as if they were ${fromHz} to ${toHz} Hz`,
        expected:
          'expected frequencies in Hz without a mark between the thousands, such as 1016 or 20000, or a heading that names their unit, such as "frequency (kHz)"',
      };
    },
  };
}

/** "1 016" in all rows that have thousands: each may have lost a column to them, and one cannot but have. */
function watchParting({ text, fields, plan }: Row, columns: number): ThousandsWatch {
  let parted = columns === 3 && plan.frequency === 0 && plan.level === 1;
  let first: TextLine | undefined;
  return {
    saw(line) {
      if (!parted) return;
      parted = looksParted(text, fields);
      if (parted && text[fields.start[1]!] === ZERO) first ??= { ...line };
    },
    found: () =>
      parted && first
        ? {
            line: first,
            problem: 'its frequency has a mark or a space between the thousands, which parts columns here',
            expected: WITHOUT,
          }
        : undefined,
  };
}
