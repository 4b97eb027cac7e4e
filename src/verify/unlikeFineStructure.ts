import type { Warning } from '../warning.js';
import type { Comparison } from './comparison.js';
import type { Smoothings } from './smoothedAlike.js';
import { fineStructureDb } from './smoothedOtherwise.js';

/** Below this a curve is smooth by nature. */
const LEAST_DB = 0.5;
/** No placement, noise or average of a few positions makes the one so much smoother than the other. */
const UNLIKE = 2.5;

/**
 * A warning where one of two measurements has far less fine structure than the other, or is the other smoothed: smoothed,
 * or gated, and the other is not. Filters of the bank do not take it away, so the difference looks like another room.
 *
 * @param comparison as they came
 * @param smoothings what each was smoothed over, where that is not the same: they are then compared smoothed alike
 */
export function unlikeFineStructure(comparison: Comparison, smoothings: Smoothings | undefined): Warning[] {
  const { before, after } = fineStructureDb(comparison);
  const isUnlike = Math.max(before, after) >= Math.max(LEAST_DB, UNLIKE * Math.min(before, after));
  if (!smoothings && !isUnlike) return [];
  const isAfter = smoothings ? smoothings.after > smoothings.before : after < before;
  const figures = `${before.toFixed(1)} dB RMS finer than a third of an octave without them, ${after.toFixed(1)} dB with them`;
  const [much, little] = smoothings
    ? [Math.max(smoothings.before, smoothings.after), Math.min(smoothings.before, smoothings.after)]
    : [0, 0];
  return [
    {
      code: 'unlike-fine-structure',
      message: `The measurement ${isAfter ? 'with' : 'without'} the filters has ${isUnlike ? 'far ' : ''}less fine structure than the other (${figures}), ${
        smoothings
          ? `as if it had been smoothed over ${widthWords(much)} and the other ${little > 0 ? `over ${widthWords(little)}` : 'had not'}. ` +
            'Both are compared smoothed alike, so that does not count as a fault, but what is narrower than that hardly shows: export both in the same way to see it.'
          : 'as if it had been smoothed or gated otherwise. What is named here may come of that alone: measure and export both in the same way.'
      }`,
    },
  ];
}

/** "1/3 octave" */
export const widthWords = (octaves: number): string =>
  octaves >= 1 ? 'one octave' : `1/${Math.round(1 / octaves)} octave`;
