import { InputError } from '../../src/inputError.js';
import type { MeasuredLength } from '../../src/units/measuredLength.js';
import { parseMeasuredLength } from '../../src/units/parseMeasuredLength.js';
import { withUnitEngine } from '../../src/units/withUnitEngine.js';

/** Farther than this no small speaker is measured; the set-up's own schema has the same bound. */
const MAX_DISTANCE_M = 50;
const BARE = /^[\s\d.,/±+-]*$/;

/**
 * A length as it was typed; without a unit it is in `unit`. A tolerance may follow it ("29 ± 1").
 *
 * @returns the length, or what is wrong with it in words
 */
export async function readLength(
  text: string,
  unit: 'cm' | 'in',
  what: string,
): Promise<{ readonly length: MeasuredLength } | { readonly problem: string }> {
  const written = BARE.test(text) && text.trim() !== '' ? `${text} ${unit}` : text;
  try {
    const length = await withUnitEngine(() => parseMeasuredLength(written, what));
    if (length.m <= MAX_DISTANCE_M) return { length };
    return { problem: `${what}: found "${text}", expected at most ${MAX_DISTANCE_M} m` };
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return { problem: error.message };
  }
}
