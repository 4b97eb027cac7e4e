import type { FrequencyRange } from '../../curve/curve.js';
import { log2 } from '../../elementary/logarithm.js';
import type { Feature } from '../features/detectFeatures.js';

/** A flank ends where no more than this is left of the dip … */
const FLANK_DB = 0.35;
/** … or where, past this share of the depth, the curve falls again by this much … */
const PAST_SHARE = 0.4;
const RISE_DB = 0.5;
/** … and at this distance at the latest. */
const FARTHEST_OCTAVES = 0.75;

/**
 * The span of a dip with its flanks, down to where the curve is back at its surroundings: an equalizer that mends the
 * flanks of a null pushes into the null.
 *
 * @param heightDb smoothed level minus trend at each frequency
 */
export function protectedSpan(
  { index, levelDb }: Feature,
  frequencyHz: Float64Array,
  heightDb: Float64Array,
): FrequencyRange {
  const end = (step: 1 | -1): number => {
    let least = Number.POSITIVE_INFINITY;
    let at = index;
    for (let i = index; i >= 0 && i < heightDb.length; i += step) {
      const left = -heightDb[i]!;
      const octaves = Math.abs(log2(frequencyHz[i]! / frequencyHz[index]!));
      if (left <= FLANK_DB || octaves > FARTHEST_OCTAVES) return i;
      if (left < least) {
        least = left;
        at = i;
      }
      if (least < -PAST_SHARE * levelDb && left > least + RISE_DB) return at;
    }
    return at;
  };
  return { fromHz: frequencyHz[end(-1)]!, toHz: frequencyHz[end(1)]! };
}
