const TAB = 0x09;
const SPACE = 0x20;
const QUOTE = 0x22;
const HASH = 0x23;
const COMMA = 0x2c;
const SLASH = 0x2f;
const SEMICOLON = 0x3b;

/** What stands between the columns; white space means any run of tabs and spaces. */
export type Separator = 'comma' | 'semicolon' | 'whitespace';

const MAX_FIELDS = 64;

/** The fields of one row as spans of bytes, quotes and surrounding blanks taken off. Reused from row to row. */
export interface RowFields {
  count: number;
  readonly start: Int32Array;
  readonly end: Int32Array;
}

export function rowFields(): RowFields {
  return { count: 0, start: new Int32Array(MAX_FIELDS), end: new Int32Array(MAX_FIELDS) };
}

/**
 * Which separator a data row uses. A semicolon settles it. A comma next to a blank, or in a row without blanks,
 * separates; a comma inside of a word in a row of words parted by blanks is a decimal comma.
 */
export function separatorOf(bytes: Uint8Array, start: number, end: number): Separator {
  let commas = 0;
  let blanks = 0;
  let commaByBlank = false;
  let quoted = false;
  for (let i = start; i < end; i++) {
    const byte = bytes[i];
    if (byte === QUOTE) quoted = !quoted;
    if (quoted) continue;
    if (byte === SEMICOLON) return 'semicolon';
    if (byte === COMMA) {
      commas++;
      if ((i > start && isBlank(bytes[i - 1])) || (i + 1 < end && isBlank(bytes[i + 1]))) commaByBlank = true;
    }
    if (isBlank(byte)) blanks++;
  }
  return commaByBlank || (commas > 0 && blanks === 0) ? 'comma' : 'whitespace';
}

/**
 * Splits the row in bytes `start` … `end` − 1, which has no blanks at its ends. A field in double quotes may hold
 * separators; `#` or `//` at the start of a field ends the row; one empty field at the end is dropped.
 */
export function splitRow(
  bytes: Uint8Array,
  start: number,
  end: number,
  separator: Separator,
  fields: RowFields,
): void {
  fields.count = 0;
  const mark = separator === 'comma' ? COMMA : separator === 'semicolon' ? SEMICOLON : -1;
  let i = start;
  let afterMark = false;
  while (i < end || afterMark) {
    while (i < end && isBlank(bytes[i])) i++;
    if (i < end && (bytes[i] === HASH || (bytes[i] === SLASH && bytes[i + 1] === SLASH))) return;
    if (i >= end) return; // nothing follows the last separator
    let from = i;
    let to: number;
    if (bytes[i] === QUOTE) {
      from = ++i;
      while (i < end && bytes[i] !== QUOTE) i++;
      to = i;
      if (i < end) i++;
      while (from < to && isBlank(bytes[from])) from++;
      while (to > from && isBlank(bytes[to - 1])) to--;
      while (i < end && isBlank(bytes[i])) i++;
      // Anything but a separator after the closing quote makes the field unreadable, quotes and all.
      if (mark >= 0 && i < end && bytes[i] !== mark) {
        while (i < end && bytes[i] !== mark) i++;
        to = i;
        from--;
      }
    } else if (mark >= 0) {
      while (i < end && bytes[i] !== mark) i++;
      to = i;
      while (to > from && isBlank(bytes[to - 1])) to--;
    } else {
      while (i < end && !isBlank(bytes[i])) i++;
      to = i;
    }
    if (fields.count < MAX_FIELDS) {
      fields.start[fields.count] = from;
      fields.end[fields.count] = to;
    }
    fields.count++;
    afterMark = mark >= 0 && i < end && bytes[i] === mark;
    if (afterMark) i++;
  }
}

function isBlank(byte: number | undefined): boolean {
  return byte === SPACE || byte === TAB;
}
