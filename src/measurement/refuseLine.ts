import { InputError } from '../inputError.js';
import { showInvisible } from './showInvisible.js';
import { decodeText, type TextLine } from './textLines.js';

const EXPECTED = 'expected frequency in Hz, level in dB and optionally phase in degrees, such as "1000 82.5"';
const SHOWN = 60;

/** The refusal of one line: file, line, what was found, what is wrong with it, what was expected. */
export function refuseLine(
  fileName: string,
  bytes: Uint8Array,
  line: TextLine,
  problem: string,
  expected: string = EXPECTED,
): InputError {
  const found = shortText(decodeText(bytes, line.start, Math.min(line.end, line.start + 4 * SHOWN)));
  return new InputError(`${fileName} line ${line.number}: found "${found}": ${problem}; ${expected}`);
}

/** What can be shown of a text from a file in one line of a message. */
function shortText(text: string): string {
  const printable = showInvisible(text.replace(/\p{Cc}+/gu, ' '));
  return printable.length <= SHOWN ? printable : `${printable.slice(0, SHOWN)}…`;
}

/** "1 row", "2 rows". */
export function plural(count: number, one: string, many = `${one}s`): string {
  return `${count} ${count === 1 ? one : many}`;
}
