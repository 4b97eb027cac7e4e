import { fingerprint } from '../../elementary/fingerprint.js';

/** C99 tells internal names apart by 63 characters at least (ISO/IEC 9899:1999, 5.2.4.1); what is added must fit beside it. */
const MOST = 32;

/**
 * A part of a C identifier for a title: the same title always gives the same, and what letters and digits of ASCII do not
 * hold, or is too long, adds a number made of the whole title. It has no two underscores in a row, which C++ reserves.
 */
export function cName(title: string): string {
  const plain = title.replace(/[^A-Za-z0-9]+/g, '_').replace(/^_|_$/g, '');
  const isWhole = /^[A-Za-z0-9]+([ ._-][A-Za-z0-9]+)*$/.test(title) && plain.length <= MOST;
  if (isWhole) return plain;
  const number = fingerprint(title);
  const cut = plain.slice(0, MOST - number.length - 1).replace(/_$/, '');
  return cut === '' ? number : `${cut}_${number}`;
}
