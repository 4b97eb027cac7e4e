import { smoothOctave } from '../curve/smoothOctave.js';
import { weightedRms } from '../curve/weightedRms.js';
import type { Warning } from '../warning.js';
import type { Comparison } from './comparison.js';

/** What a third of an octave levels out is fine structure. */
const FINE_OCTAVES = 1 / 3;
/** Level and what is wider are no matter of smoothing. */
const LEVEL_OCTAVES = 1;
/** Below this a curve is smooth by nature. */
const LEAST_DB = 0.5;
/** No placement, noise or average of a few positions makes the one so much smoother than the other. */
const UNLIKE = 2.5;

/** Of less fine structure smoothing takes too little to be told, and nothing that would look like another room. */
const LEAST_SMOOTHED_DB = 1;
/** Widths in octaves, as parts, over which curves are smoothed for looking at. */
const SMOOTHED_OVER = [12, 6, 3];
/**
 * Share of what the two differ by that is left once the other has been smoothed as well. Two curves with unrelated fine
 * structure of one size keep √½ of it. Of 14 simulated rooms, moves of 2 to 40 cm, missing filters and other
 * microphones among them, kept 0.67 and more; 42 curves that had been smoothed kept 0.06 to 0.31.
 */
const LEFT_BY_SMOOTHING = 0.45;

/**
 * A warning where one of two measurements has far less fine structure than the other, or is the other smoothed: smoothed,
 * or gated, and the other is not. Filters of the bank do not take it away, so the difference looks like another room.
 */
export function unlikeFineStructure(comparison: Comparison): Warning[] {
  const { frequencyHz, beforeDb, afterDb, promisedDb, range } = comparison;
  const inRange = frequencyHz.map((hz) => (hz >= range.fromHz && hz <= range.toHz ? 1 : 0));
  const smooth = (levelDb: Float64Array, octaves: number) =>
    smoothOctave({ frequencyHz, levelDb }, octaves).levelDb;
  const beyondDb = (levelDb: Float64Array, octaves: number): number => {
    const coarse = smooth(levelDb, octaves);
    return weightedRms(
      levelDb.map((db, i) => db - coarse[i]!),
      inRange,
    );
  };
  const [before, after] = [beyondDb(beforeDb, FINE_OCTAVES), beyondDb(afterDb, FINE_OCTAVES)];
  const wholeDb = beforeDb.map((db, i) => db + promisedDb[i]!);
  const apartDb = (one: Float64Array, other: Float64Array) =>
    beyondDb(
      one.map((db, i) => db - other[i]!),
      LEVEL_OCTAVES,
    );
  const apart = apartDb(afterDb, wholeDb);
  const left = (part: number) =>
    after < before
      ? apartDb(afterDb, smooth(wholeDb, 1 / part))
      : apartDb(smooth(afterDb, 1 / part), wholeDb);
  const closest = SMOOTHED_OVER.map((part) => ({ part, leftDb: left(part) })).reduce((a, b) =>
    b.leftDb < a.leftDb ? b : a,
  );
  const isSmoothed =
    apart >= LEAST_DB &&
    Math.max(before, after) >= LEAST_SMOOTHED_DB &&
    closest.leftDb < LEFT_BY_SMOOTHING * apart;
  const isUnlike = Math.max(before, after) >= Math.max(LEAST_DB, UNLIKE * Math.min(before, after));
  if (!isSmoothed && !isUnlike) return [];
  const smoother = after < before ? 'with' : 'without';
  const made = isSmoothed
    ? `as if it had been smoothed over 1/${closest.part} octave and the other had not`
    : 'as if it had been smoothed or gated otherwise';
  return [
    {
      code: 'unlike-fine-structure',
      message:
        `The measurement ${smoother} the filters has ${isUnlike ? 'far ' : ''}less fine structure than the other (${before.toFixed(1)} dB RMS ` +
        `finer than a third of an octave without them, ${after.toFixed(1)} dB with them), ${made}. ` +
        'What is named here may come of that alone: measure and export both in the same way.',
    },
  ];
}
