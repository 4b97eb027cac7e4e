import { InputError } from '../inputError.js';
import { textLines } from './textLines.js';

/**
 * The text of a file as bytes in which digits and separators are ASCII: byte-order marks taken off, UTF-16 (with a
 * mark, or plain to see without) turned into UTF-8, everything else as it is.
 *
 * @throws InputError where the file is empty or no text
 */
export function utf8Bytes(bytes: Uint8Array, fileName: string): Uint8Array {
  const expected = 'expected a text file with rows of frequency and level';
  if (bytes.length === 0) throw new InputError(`${fileName}: the file is empty, ${expected}`);
  const [first, second, third] = bytes;
  if (first === 0xef && second === 0xbb && third === 0xbf) {
    // Some programs put one more before what has one; a file of nothing else is walked, not descended into.
    let start = 3;
    while (bytes[start] === 0xef && bytes[start + 1] === 0xbb && bytes[start + 2] === 0xbf) start += 3;
    return utf8Bytes(bytes.subarray(start), fileName);
  }
  if (isMarkedUtf32(bytes))
    throw new InputError(`${fileName}: found text in UTF-32, ${expected}, in UTF-8 or UTF-16`);
  const marked = first === 0xff && second === 0xfe ? 0 : first === 0xfe && second === 0xff ? 1 : undefined;
  if (marked !== undefined && bytes.length % 2 === 1)
    throw new InputError(
      `${fileName}: found text in UTF-16 that ends in the middle of a character, ${expected}, whole to its end`,
    );
  if (marked !== undefined) return fromUtf16(bytes.subarray(2), marked);
  const unmarked = unmarkedUtf16(bytes);
  if (unmarked !== undefined) return fromUtf16(bytes, unmarked);
  const control = bytes.subarray(0, SNIFF_BYTES).findIndex(isControl);
  if (control >= 0) {
    const hex = bytes[control]!.toString(16).padStart(2, '0');
    const wave = String.fromCharCode(...bytes.subarray(0, 4)) === 'RIFF';
    const hint = wave ? ' (it is a WAV file: an impulse response is read by its own command)' : '';
    throw new InputError(
      `${fileName} line ${lineAt(bytes, control)}: found binary data (byte 0x${hex} at position ${control}), ${expected}${hint}`,
    );
  }
  return bytes;
}

/** The line that holds byte `position`; lines count from 1. */
function lineAt(bytes: Uint8Array, position: number): number {
  let number = 1;
  for (const line of textLines(bytes)) {
    if (line.start > position) break;
    number = line.number;
  }
  return number;
}

/** A mark of four bytes, the zeros of which no text in UTF-16 begins with. */
function isMarkedUtf32([a, b, c, d]: Uint8Array): boolean {
  return (a === 0xff && b === 0xfe && c === 0 && d === 0) || (a === 0 && b === 0 && c === 0xfe && d === 0xff);
}

const SNIFF_BYTES = 65_536;

/** Control characters that no text has: all but tab, line feed, vertical tab, form feed, carriage return, Ctrl-Z. */
function isControl(byte: number): boolean {
  return byte < 9 || (byte > 13 && byte < 32 && byte !== 0x1a) || byte === 0x7f;
}

/** @param lowByte place of the low byte in a pair: 0 for little-endian, 1 for big-endian */
function fromUtf16(bytes: Uint8Array, lowByte: 0 | 1): Uint8Array {
  return new TextEncoder().encode(new TextDecoder(lowByte === 0 ? 'utf-16le' : 'utf-16be').decode(bytes));
}

/** ASCII text in UTF-16 shows as pairs of a printable byte and a zero, always in the same order. */
function unmarkedUtf16(bytes: Uint8Array): 0 | 1 | undefined {
  if (bytes.length < 8 || bytes.length % 2 === 1) return undefined;
  const head = bytes.subarray(0, 256);
  const pairsHave = (low: 0 | 1) => {
    for (let i = 0; i + 1 < head.length; i += 2) {
      const byte = head[i + low]!;
      if (head[i + 1 - low] !== 0 || byte === 0 || byte > 126 || isControl(byte)) return false;
    }
    return true;
  };
  if (pairsHave(0)) return 0;
  return pairsHave(1) ? 1 : undefined;
}
