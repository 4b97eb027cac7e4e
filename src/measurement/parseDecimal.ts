import { withoutSpaces } from './withoutSpaces.js';

const ZERO = 0x30;
const NINE = 0x39;
const POINT = 0x2e;
const COMMA = 0x2c;
const PLUS = 0x2b;
const MINUS = 0x2d;
/** U+2212 in UTF-8, which the number formats of some locales write for a minus (Unicode CLDR: Swedish, Finnish, Slovene …). */
const MINUS_SIGN = [0xe2, 0x88, 0x92] as const;
const MINUS_SIGN_BYTES = String.fromCharCode(...MINUS_SIGN);
const LOWER_CASE = 0x20;
const E = 0x65;

/** 10⁰ … 10²², all of which a double holds exactly. */
const EXACT_POWERS = Float64Array.from({ length: 23 }, (_, i) => Number(`1e${i}`));
const EXACT_DIGITS = 15;
/** More characters than any number takes that a program wrote; what is longer is no number. */
const MAX_CHARACTERS = 1000;

/** Which character stands before the decimals; 0 as long as none was met. */
export interface DecimalMark {
  byte: 0 | typeof POINT | typeof COMMA;
}

/**
 * A decimal number straight from bytes, correctly rounded. The first decimal mark met settles which one the file
 * uses; the other is refused from then on. A minus may be the sign U+2212 as well; spaces at its ends and between groups
 * of three digits, as a spreadsheet writes them, are overlooked.
 *
 * Up to 15 digits with a power of ten up to 22 the result is one exact operation on two exact doubles
 * (W. D. Clinger, "How to Read Floating Point Numbers Accurately", PLDI 1990); the rest goes to `Number`.
 *
 * @returns NaN where bytes `start` … `end` − 1 are no finite number
 */
export function parseDecimal(bytes: Uint8Array, start: number, end: number, mark: DecimalMark): number {
  if (end - start > MAX_CHARACTERS) return Number.NaN;
  const value = parseUnspaced(bytes, start, end, mark);
  if (!Number.isNaN(value)) return value;
  const unspaced = withoutSpaces(bytes, start, end);
  return unspaced ? parseUnspaced(unspaced, 0, unspaced.length, mark) : Number.NaN;
}

function parseUnspaced(bytes: Uint8Array, start: number, end: number, mark: DecimalMark): number {
  let i = start;
  let byte = bytes[i];
  const minus = minusLength(bytes, i);
  i += byte === PLUS ? 1 : minus;
  let mantissa = 0;
  let digits = 0;
  let significant = 0;
  let decimals = 0;
  let seenMark: number = 0;
  for (; i < end; i++) {
    byte = bytes[i]!;
    if (byte >= ZERO && byte <= NINE) {
      digits++;
      if (significant > 0 || byte !== ZERO) significant++;
      mantissa = mantissa * 10 + (byte - ZERO);
      if (seenMark !== 0) decimals++;
    } else if ((byte === POINT || byte === COMMA) && seenMark === 0) {
      if (mark.byte === 0) mark.byte = byte;
      if (mark.byte !== byte) return Number.NaN;
      seenMark = byte;
    } else break;
  }
  if (digits === 0) return Number.NaN;

  let exponent = 0;
  if (i < end) {
    if ((bytes[i]! | LOWER_CASE) !== E) return Number.NaN;
    i++;
    const down = minusLength(bytes, i);
    i += bytes[i] === PLUS ? 1 : down;
    if (i >= end) return Number.NaN;
    for (; i < end; i++) {
      byte = bytes[i]!;
      if (byte < ZERO || byte > NINE) return Number.NaN;
      exponent = Math.min(9999, exponent * 10 + (byte - ZERO));
    }
    if (down > 0) exponent = -exponent;
  }

  const power = exponent - decimals;
  if (significant <= EXACT_DIGITS && power >= -22 && power <= 22) {
    const size = power < 0 ? mantissa / EXACT_POWERS[-power]! : mantissa * EXACT_POWERS[power]!;
    return minus > 0 ? -size : size;
  }
  const text = String.fromCharCode(...bytes.subarray(start, end)).replaceAll(MINUS_SIGN_BYTES, '-');
  const value = Number(text.replace(',', '.'));
  return Number.isFinite(value) ? value : Number.NaN;
}

/** Of a minus that stands at `i`; 0 where none does. */
function minusLength(bytes: Uint8Array, i: number): 0 | 1 | 3 {
  if (bytes[i] === MINUS) return 1;
  return bytes[i] === MINUS_SIGN[0] && bytes[i + 1] === MINUS_SIGN[1] && bytes[i + 2] === MINUS_SIGN[2]
    ? 3
    : 0;
}
