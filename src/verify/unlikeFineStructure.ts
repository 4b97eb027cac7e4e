import { smoothOctave } from '../curve/smoothOctave.js';
import { weightedRms } from '../curve/weightedRms.js';
import type { Warning } from '../warning.js';
import type { Comparison } from './comparison.js';

/** What a third of an octave levels out is fine structure. */
const FINE_OCTAVES = 1 / 3;
/** Below this a curve is smooth by nature. */
const LEAST_DB = 0.5;
/** No placement, noise or average of a few positions makes the one so much smoother than the other. */
const UNLIKE = 2.5;

/**
 * A warning where one of two measurements has far less fine structure than the other: smoothed, or gated, and the other
 * is not. Filters of the bank do not take it away, so the difference looks like another room.
 */
export function unlikeFineStructure({ frequencyHz, beforeDb, afterDb, range }: Comparison): Warning[] {
  const inRange = frequencyHz.map((hz) => (hz >= range.fromHz && hz <= range.toHz ? 1 : 0));
  const fineDb = (levelDb: Float64Array): number => {
    const coarse = smoothOctave({ frequencyHz, levelDb }, FINE_OCTAVES).levelDb;
    return weightedRms(
      levelDb.map((db, i) => db - coarse[i]!),
      inRange,
    );
  };
  const [before, after] = [fineDb(beforeDb), fineDb(afterDb)];
  if (Math.max(before, after) < LEAST_DB || Math.max(before, after) < UNLIKE * Math.min(before, after))
    return [];
  const smoother = after < before ? 'with' : 'without';
  return [
    {
      code: 'unlike-fine-structure',
      message:
        `The measurement ${smoother} the filters has far less fine structure than the other (${before.toFixed(1)} dB RMS ` +
        `finer than a third of an octave without them, ${after.toFixed(1)} dB with them), as if it had been smoothed or ` +
        'gated otherwise. What is named here may come of that alone: measure and export both in the same way.',
    },
  ];
}
