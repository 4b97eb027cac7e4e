import type { FrequencyRange } from '../curve/curve.js';
import type { Finding } from '../diagnosis/finding.js';
import { mergeRanges } from '../diagnosis/mergeRanges.js';
import { without } from '../diagnosis/without.js';
import { pow2 } from '../elementary/exponential.js';
import type { FitLimits } from '../fit/fitProblem.js';

/** Half an octave between the points of half the gain. */
const BROAD_Q = 3;
/** Where one dip is late sound's, others of it that are too small to be found lie beside it. */
const BESIDE_OCTAVES = 1 / 2;
/** A band that mends a dip of the speaker's stands as near to it as this, or within its half width. */
const AT_OCTAVES = 1 / 12;

/**
 * Where a dip is not clearly the speaker's own, no band is spent on filling it or the like beside it: what boosts there
 * boosts broadly. That boosts are better wide than narrow is common practice, no published source.
 */
export function wideBoostsOf(findings: readonly Finding[]): Pick<FitLimits, 'wideBoosts'> {
  const dips = findings.filter(({ kind }) => kind === 'dip');
  const others = mergeRanges(dips.filter((dip) => !isOwn(dip)).map(besideIt));
  const own = mergeRanges(dips.filter(isOwn).map(mendedBy));
  const spans = others.flatMap((span) => without(span, own));
  return spans.length === 0 ? {} : { wideBoosts: { maxQ: BROAD_Q, spans } };
}

/** The speaker's own is what is mended, and what would be if it were no trifle. */
function isOwn({ verdict, cause, zone }: Finding): boolean {
  return verdict === 'equalize' || (cause.type === 'speaker' && zone === undefined);
}

function besideIt({ frequencyHz, widthOctaves, zone }: Finding): FrequencyRange {
  const around = about(frequencyHz, Math.max(widthOctaves, BESIDE_OCTAVES));
  return {
    fromHz: Math.min(around.fromHz, zone?.fromHz ?? frequencyHz),
    toHz: Math.max(around.toHz, zone?.toHz ?? frequencyHz),
  };
}

function mendedBy({ frequencyHz, widthOctaves }: Finding): FrequencyRange {
  return about(frequencyHz, widthOctaves / 2 + AT_OCTAVES);
}

function about(hz: number, octaves: number): FrequencyRange {
  return { fromHz: hz * pow2(-octaves), toHz: hz * pow2(octaves) };
}
