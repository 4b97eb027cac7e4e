import type { RowFields } from './rowSplitter.js';

const NINE = 0x39;
const ZERO = 0x30;
const POINT = 0x2e;
const COMMA = 0x2c;

/** "1,008.95", "1.008,95", "1'009": with marks between the thousands. */
const GROUPED = /^[+-]?\d{1,3}(?:([.,'’])\d{3})(?:\1\d{3})*(?:(?!\1)[.,]\d+)?$/;

/** The number without the marks between its thousands; undefined where it cannot be read as having any. */
export function withoutThousands(text: string): string | undefined {
  const mark = GROUPED.exec(text)?.[1];
  return mark === undefined ? undefined : text.replaceAll(mark, '');
}

/** What to do about a number that has marks between its thousands; undefined where it can have none. */
export function thousandsHint(text: string): string | undefined {
  const plain = withoutThousands(text);
  return plain === undefined ? undefined : `thousands are written without a mark: ${plain}`;
}

/** How a frequency is written: without any mark, as "1,016" or "16.000" are, which may be thousands, or otherwise. */
export type Writing = 'whole' | 'threeDigits' | 'other';

export function writingOf(bytes: Uint8Array, start: number, end: number): Writing {
  let marks = 0;
  for (let i = start; i < end; i++) {
    const byte = bytes[i]!;
    if (byte === POINT || byte === COMMA) marks++;
    else if (byte < ZERO || byte > NINE) return 'other';
  }
  if (marks === 0) return 'whole';
  const before = end - start - 4;
  const lastMark = bytes[end - 4];
  const parted = lastMark === POINT || lastMark === COMMA;
  return marks === 1 && parted && before >= 1 && before <= 3 && bytes[start] !== ZERO
    ? 'threeDigits'
    : 'other';
}

/** Where all frequencies are written with three digits after a mark, they mean Hz with decimals only if they begin at this or above … */
const LEAST_HZ = 10;
/** … or go beyond this; else they are a loudspeaker's in kHz or with thousands. */
const MOST_HZ = 50;

/**
 * Whether frequencies that are written with three digits after a mark are thousands: as they stand they are out of
 * order among the whole ones, times a thousand they are not. Where all are written so, whether that would be a few Hz.
 *
 * @param threeDigits 1 for those that are written so
 */
export function areThousands(frequencyHz: Float64Array, threeDigits: Uint8Array): boolean {
  const marked = threeDigits.reduce((sum, one) => sum + one, 0);
  if (marked === 0) return false;
  if (marked === threeDigits.length) {
    const ends = endsOf(frequencyHz);
    return ends.fromHz < LEAST_HZ && ends.toHz <= MOST_HZ;
  }
  if (isInOrder(frequencyHz)) return false;
  return isInOrder(frequencyHz.map((hz, i) => (threeDigits[i] ? 1000 * hz : hz)));
}

/** "1" beside "016" or "016.5" at the start of a row: what a space or a comma between thousands makes of them where it parts the columns. */
export function looksParted(bytes: Uint8Array, { start, end }: RowFields): boolean {
  const before = digitsOf(bytes, start[0]!, end[0]!);
  const isWhole = before === end[0]! - start[0]!;
  return isWhole && before <= 3 && bytes[start[0]!] !== ZERO && digitsOf(bytes, start[1]!, end[1]!) === 3;
}

/** How many digits it begins with. */
function digitsOf(bytes: Uint8Array, start: number, end: number): number {
  let i = start;
  while (i < end && bytes[i]! >= ZERO && bytes[i]! <= NINE) i++;
  return i - start;
}

/** Least and greatest, in any order. */
export function endsOf(frequencyHz: Float64Array): { readonly fromHz: number; readonly toHz: number } {
  let [fromHz, toHz] = [Number.POSITIVE_INFINITY, 0];
  for (const hz of frequencyHz) {
    fromHz = Math.min(fromHz, hz);
    toHz = Math.max(toHz, hz);
  }
  return { fromHz, toHz };
}

function isInOrder(values: Float64Array): boolean {
  let [rises, falls] = [false, false];
  for (let i = 1; i < values.length; i++) {
    if (values[i]! > values[i - 1]!) rises = true;
    if (values[i]! < values[i - 1]!) falls = true;
  }
  return !(rises && falls);
}
