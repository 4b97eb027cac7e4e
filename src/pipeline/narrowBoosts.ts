import { tenths } from '../diagnosis/evidence/tenths.js';
import { detectFeatures } from '../diagnosis/features/detectFeatures.js';
import type { Finding } from '../diagnosis/verdict/finding.js';
import { log2 } from '../elementary/logarithm.js';
import type { Filter } from '../filter/filter.js';
import { formatFrequency } from '../units/formatFrequency.js';
import type { Warning } from '../warning.js';
import { isOwnDip, mendedWithinOctaves } from './ownDips.js';

/** A boost by this much that stands out as far above its flanks is worth a word … */
const LEAST_BOOST_DB = 1;
const STANDS_OUT_DB = 1.5;
/** … where it is narrower than this between the points of half its height. */
const NARROW_OCTAVES = 1 / 4;
/** Below, a hand's breadth is little of a wave; above, the speaker's own end is near. */
const FROM_HZ = 500;
const TO_HZ = 10000;
const NAMED = 4;
/** Bandwidth in octaves of a peak of Q 1, near enough for narrow ones: log2 e. */
const OCTAVES_AT_Q_1 = Math.LOG2E;

interface Boost {
  readonly frequencyHz: number;
  readonly levelDb: number;
}

/**
 * Narrow boosts where no dip was found to be the speaker's, of the whole EQ or of single bands that stand in a cut: what a
 * microphone hears there mostly is late sound, and a hand's breadth away the dip is elsewhere. That boosts are better wide
 * than narrow is common practice, no published source.
 *
 * @param eqDb sum of the filters at `frequencyHz`, n points
 */
export function narrowBoosts(
  frequencyHz: Float64Array,
  eqDb: Float64Array,
  findings: readonly Finding[],
  filters: readonly Filter[] = [],
): Warning[] {
  const mended = findings.filter(isOwnDip);
  const isMended = (hz: number) =>
    mended.some((dip) => Math.abs(log2(dip.frequencyHz / hz)) < mendedWithinOctaves(dip));
  const isTold = ({ frequencyHz: hz }: Boost) => hz >= FROM_HZ && hz <= TO_HZ && !isMended(hz);
  const ofSum = detectFeatures(frequencyHz, eqDb, {
    minHeightDb: LEAST_BOOST_DB,
    minProminenceDb: STANDS_OUT_DB,
  }).filter((rise) => rise.kind === 'peak' && rise.widthOctaves < NARROW_OCTAVES && isTold(rise));
  const isSeen = ({ frequencyHz: hz }: Boost) =>
    ofSum.some((rise) => Math.abs(log2(rise.frequencyHz / hz)) < NARROW_OCTAVES / 2);
  const ofBands = filters.flatMap(narrowBand).filter((band) => isTold(band) && !isSeen(band));
  const narrow = [...ofSum, ...ofBands];
  const strongest = narrow.toSorted((a, b) => b.levelDb - a.levelDb).slice(0, NAMED);
  const [first] = strongest;
  if (!first) return [];
  const list = strongest.map(
    (boost) => `+${tenths(boost.levelDb)} dB at ${formatFrequency(boost.frequencyHz)}`,
  );
  const more = narrow.length > NAMED ? `, and ${narrow.length - NAMED} more` : '';
  return [
    {
      code: 'narrow-boost',
      message:
        `The EQ boosts narrowly where no dip was found to be the speaker's: ${list.join(', ')}${more}. Such dips mostly are ` +
        "late sound's and lie elsewhere a hand's breadth away; filling them costs headroom and wins little. Several " +
        'positions tell, and fewer bands or a lower --q-max keep the EQ to what is broad.',
      frequencyHz: first.frequencyHz,
    },
  ];
}

/** A band that by itself rises narrowly, by more than is ripple. */
function narrowBand({ type, frequencyHz, gainDb, q }: Filter): Boost[] {
  const isNarrow = type === 'peaking' && OCTAVES_AT_Q_1 / q < NARROW_OCTAVES && gainDb >= STANDS_OUT_DB;
  return isNarrow ? [{ frequencyHz, levelDb: gainDb }] : [];
}
