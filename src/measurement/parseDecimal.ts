const ZERO = 0x30;
const NINE = 0x39;
const POINT = 0x2e;
const COMMA = 0x2c;
const PLUS = 0x2b;
const MINUS = 0x2d;
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
 * uses; the other is refused from then on.
 *
 * Up to 15 digits with a power of ten up to 22 the result is one exact operation on two exact doubles
 * (W. D. Clinger, "How to Read Floating Point Numbers Accurately", PLDI 1990); the rest goes to `Number`.
 *
 * @returns NaN where bytes `start` … `end` − 1 are no finite number
 */
export function parseDecimal(bytes: Uint8Array, start: number, end: number, mark: DecimalMark): number {
  if (end - start > MAX_CHARACTERS) return Number.NaN;
  let i = start;
  let byte = bytes[i];
  const negative = byte === MINUS;
  if (negative || byte === PLUS) i++;
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
    const down = bytes[i] === MINUS;
    if (down || bytes[i] === PLUS) i++;
    if (i >= end) return Number.NaN;
    for (; i < end; i++) {
      byte = bytes[i]!;
      if (byte < ZERO || byte > NINE) return Number.NaN;
      exponent = Math.min(9999, exponent * 10 + (byte - ZERO));
    }
    if (down) exponent = -exponent;
  }

  const power = exponent - decimals;
  if (significant <= EXACT_DIGITS && power >= -22 && power <= 22) {
    const size = power < 0 ? mantissa / EXACT_POWERS[-power]! : mantissa * EXACT_POWERS[power]!;
    return negative ? -size : size;
  }
  const value = Number(String.fromCharCode(...bytes.subarray(start, end)).replace(',', '.'));
  return Number.isFinite(value) ? value : Number.NaN;
}
