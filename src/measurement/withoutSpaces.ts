import { decodeText } from './textLines.js';

/** The spaces that stand within numbers: between groups of three digits (ISO 80000-1), most of them such as keep a line together. */
const SPACES = ' \u00a0\u2007\u2009\u202f';
const AROUND = new RegExp(`^[${SPACES}]+|[${SPACES}]+$`, 'g');
const GROUPED = new RegExp(`^[+\\-\u2212]?\\d{1,3}([${SPACES}])\\d{3}(?:\\1\\d{3})*(?:[.,]\\d+)?$`);
const BETWEEN = new RegExp(`[${SPACES}]`, 'g');
/** Longer than any number that a person or a spreadsheet parts into groups. */
const MAX_BYTES = 60;

/** A field of a row without the spaces around its number and between the groups of its digits; undefined where it has none such. */
export function withoutSpaces(bytes: Uint8Array, start: number, end: number): Uint8Array | undefined {
  if (end - start > MAX_BYTES || !mayHaveSpaces(bytes, start, end)) return undefined;
  const text = decodeText(bytes, start, end);
  const bare = text.replace(AROUND, '');
  const plain = GROUPED.test(bare) ? bare.replace(BETWEEN, '') : bare;
  return plain === text ? undefined : new TextEncoder().encode(plain);
}

/** Words are decoded for nothing. */
function mayHaveSpaces(bytes: Uint8Array, start: number, end: number): boolean {
  for (let i = start; i < end; i++) if (bytes[i] === 0x20 || bytes[i]! >= 0x80) return true;
  return false;
}
