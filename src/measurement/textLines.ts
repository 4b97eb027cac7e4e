const TAB = 0x09;
const LINE_FEED = 0x0a;
const CARRIAGE_RETURN = 0x0d;
const SPACE = 0x20;
const HASH = 0x23;
const SLASH = 0x2f;
const SEMICOLON = 0x3b;
const END_OF_FILE = 0x1a;

/** Bytes `start` … `end` − 1 of a text, blanks at both ends left out; lines count from 1. */
export interface TextLine {
  readonly number: number;
  readonly start: number;
  readonly end: number;
}

/** The lines of a text from `from` on, ended by LF, CR LF or CR. */
export function* textLines(
  bytes: Uint8Array,
  from: { readonly start: number; readonly number: number } = { start: 0, number: 1 },
): Generator<TextLine> {
  let { start, number } = from;
  while (start < bytes.length) {
    let next = start;
    while (next < bytes.length && bytes[next] !== LINE_FEED && bytes[next] !== CARRIAGE_RETURN) next++;
    let end = next;
    while (start < end && isBlank(bytes[start]!)) start++;
    while (end > start && isBlank(bytes[end - 1]!)) end--;
    yield { number, start, end };
    start = next + (bytes[next] === CARRIAGE_RETURN && bytes[next + 1] === LINE_FEED ? 2 : 1);
    number++;
  }
}

/** At least as many as there are lines. */
export function countLines(bytes: Uint8Array): number {
  let count = 1;
  for (let i = 0; i < bytes.length; i++) {
    if (bytes[i] === LINE_FEED || bytes[i] === CARRIAGE_RETURN) count++;
  }
  return count;
}

/** Where the words of a comment line start, after its `#`, `;` or `//`; undefined where the line is no comment. */
export function commentStart(bytes: Uint8Array, line: TextLine): number | undefined {
  let i = line.start;
  const first = bytes[i];
  const marked = first === HASH || first === SEMICOLON || (first === SLASH && bytes[i + 1] === SLASH);
  if (i >= line.end || !marked) return undefined;
  while (i < line.end && (bytes[i] === first || isBlank(bytes[i]!))) i++;
  return i;
}

/** Bytes as text: UTF-8, or the old western code page where they are not UTF-8. A byte-order mark in it stays, to be shown. */
export function decodeText(bytes: Uint8Array, start: number, end: number): string {
  const part = bytes.subarray(start, end);
  const text = new TextDecoder('utf-8', { ignoreBOM: true }).decode(part);
  return text.includes('\ufffd') ? new TextDecoder('windows-1252').decode(part) : text;
}

function isBlank(byte: number): boolean {
  return byte === SPACE || byte === TAB || byte === END_OF_FILE;
}
