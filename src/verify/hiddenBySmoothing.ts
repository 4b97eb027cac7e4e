import type { Design } from '../schema/design.js';
import type { Warning } from '../warning.js';
import { addedDb, insteadDb } from './cellResponse.js';
import type { Comparison } from './comparison.js';
import { type Scatter, whiten } from './scatter.js';
import { widestOf } from './smoothedAlike.js';
import { widthWords } from './unlikeFineStructure.js';

/** What shows more of itself than that is not hidden by smoothing, if by anything. */
const SHOWN_SHARE = 0.7;
/**
 * Squared length, in units of what is to be expected, under which a change does not make up for the penalty of one
 * filter of several (`filterHypotheses.ts`): half of it is what the likelihood gains.
 */
const LEAST_SEEN = 9;

/** Which filters could be missing without anything being noticed, since what is compared was smoothed. */
export function hiddenBySmoothing(
  { filters, sampleRateHz }: Pick<Design, 'filters' | 'sampleRateHz'>,
  comparison: Comparison,
  reference: Scatter,
): Warning[] {
  const { alike, smoothing, ...plain } = comparison;
  if (!alike || !smoothing) return [];
  const most = (db: Float64Array) => db.reduce((top, v) => Math.max(top, Math.abs(v)), 0);
  const hidden = filters.flatMap((filter, i) => {
    const missing = insteadDb(filters, i, sampleRateHz, comparison)();
    const isSmall = most(missing) < SHOWN_SHARE * most(addedDb([filter], sampleRateHz, plain));
    const whitened = whiten(reference, missing);
    return isSmall && whitened.reduce((sum, v) => sum + v * v, 0) < LEAST_SEEN ? [i + 1] : [];
  });
  if (hidden.length === 0) return [];
  const isOne = hidden.length === 1;
  return [
    {
      code: 'hidden-by-smoothing',
      message:
        `Smoothed over ${widthWords(widestOf(alike.smoothings))}, too little of ${isOne ? 'filter' : 'filters'} ${hidden.join(', ')} shows: ` +
        `whether ${isOne ? 'it is' : 'they are'} right cannot be told from this measurement. Export it without smoothing.`,
    },
  ];
}
