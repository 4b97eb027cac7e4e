import type { Curve } from '../curve/curve.js';
import { resampleToGrid } from '../curve/resampleToGrid.js';
import { spreadOf } from '../curve/spreadOf.js';
import type { Warning } from '../warning.js';

/**
 * RMS of what two curves differ by. A design keeps five digits of a frequency, which beside a null is a few hundredths of
 * a dB in a few places; two real measurements lie farther apart all over: noise sees to it.
 */
const SAME_DB = 0.01;
const FEWEST_POINTS = 24;

/** What is held against each other in a check. */
export interface Held {
  readonly before: Curve;
  readonly after: Curve;
  readonly other?: { readonly before: Curve } | undefined;
  readonly isBeforeOfDesign: boolean;
}

/** Warnings where one measurement was given for two: what is concluded from the pair says nothing then. */
export function sameLevels({ before, after, other, isBeforeOfDesign }: Held): Warning[] {
  const without = isBeforeOfDesign ? 'the one that the design was made from' : 'the one with them off';
  const words = [
    ...(isSame(after, before)
      ? [
          `The measurement with the filters on holds the very same levels as ${without}: nothing new was measured, and that the filters do nothing says nothing of them. Give what was measured with them on.`,
        ]
      : []),
    ...(other && isSame(other.before, before)
      ? [
          `What was given as the other channel holds the very same levels as ${isBeforeOfDesign ? 'the measurement that the design was made from' : 'the measurement with the filters off'}: whether the speakers are exchanged cannot be told from it. Give what was measured at the other speaker, or the design made for it.`,
        ]
      : []),
    ...(other && isSame(other.before, after)
      ? [
          'What was given as the other channel holds the very same levels as the measurement with the filters on, and tells nothing of an exchange. Give what was measured at the other speaker without filters, or the design made for it.',
        ]
      : []),
  ];
  return words.map((message) => ({ code: 'same-measurement', message }));
}

/** A level that is another throughout counts as the same: the program that measured may set its zero anew. */
function isSame(one: Curve, other: Curve): boolean {
  const [fine, coarse] = one.frequencyHz.length < other.frequencyHz.length ? [other, one] : [one, other];
  const isOnOneGrid = coarse.frequencyHz.every((hz, i) => hz === fine.frequencyHz[i]);
  const { frequencyHz, levelDb } = isOnOneGrid ? fine : resampleToGrid(fine, coarse.frequencyHz);
  if (frequencyHz.length < FEWEST_POINTS) return false;
  const start = coarse.frequencyHz.indexOf(frequencyHz[0]!);
  const apartDb = coarse.levelDb.subarray(start, start + frequencyHz.length).map((db, i) => db - levelDb[i]!);
  return spreadOf(apartDb, new Float64Array(apartDb.length).fill(1)) < SAME_DB;
}
