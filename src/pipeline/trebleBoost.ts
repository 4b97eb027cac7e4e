import { tenths } from '../diagnosis/evidence/tenths.js';
import { formatFrequency } from '../units/formatFrequency.js';
import type { Warning } from '../warning.js';

/** Twice the power. */
const LEAST_BOOST_DB = 3;
/** The curve lies this far below the target from where it falls away to the end of the range. */
const FALLEN_DB = 2;
/** Below, it is no tweeter that gives up. */
const FROM_HZ = 5000;

/**
 * A boost where the speaker's own response falls away toward the top of the range: it costs a tweeter power that few hear. That
 * overload of a tweeter is heard late or not at all, and that hearing of the topmost octave goes first with age, is common practice,
 * no published source.
 *
 * @param frequencyHz ascending over the range, n points
 * @param eqDb sum of the filters, n
 * @param remainingDb measurement + EQ − target, n
 */
export function trebleBoost(
  frequencyHz: Float64Array,
  eqDb: Float64Array,
  remainingDb: Float64Array,
): Warning[] {
  let fallsFrom = frequencyHz.length;
  let most = -1;
  for (let i = frequencyHz.length - 1; i >= 0; i--) {
    if (frequencyHz[i]! < FROM_HZ || remainingDb[i]! - eqDb[i]! > -FALLEN_DB) break;
    fallsFrom = i;
    if (most < 0 || eqDb[i]! > eqDb[most]!) most = i;
  }
  if (most < 0 || eqDb[most]! < LEAST_BOOST_DB) return [];
  return [
    {
      code: 'boost-on-treble-fall',
      message:
        `The EQ boosts by up to ${tenths(eqDb[most]!)} dB at ${formatFrequency(frequencyHz[most]!)}, where the speaker's own response falls ` +
        `away from about ${formatFrequency(Number(frequencyHz[fallsFrom]!.toPrecision(2)))} on. 3 dB asks a tweeter for twice the power, its ` +
        'overload is heard late or not at all, and few hear much up there: turn the volume up with care, keep to the power ' +
        'that the maker rates, or end the range lower with --to.',
      frequencyHz: frequencyHz[most]!,
    },
  ];
}
