import type { FrequencyRange } from '../curve/curve.js';
import { without } from '../diagnosis/paths/without.js';
import type { Finding } from '../diagnosis/verdict/finding.js';
import { mergeRanges } from '../diagnosis/verdict/mergeRanges.js';
import { pow2 } from '../elementary/exponential.js';
import type { FitLimits } from '../fit/problem/fitProblem.js';
import { isOwnDip, mendedWithinOctaves } from './ownDips.js';

/** Half an octave between the points of half the gain. */
const BROAD_Q = 3;
/** Where one dip is late sound's, others of it that are too small to be found lie beside it. */
const BESIDE_OCTAVES = 1 / 2;

/**
 * Where a dip is not clearly the speaker's own, no band is spent on filling it or the like beside it: what boosts there
 * boosts broadly. That boosts are better wide than narrow is common practice, no published source.
 */
export function wideBoostsOf(findings: readonly Finding[]): Pick<FitLimits, 'wideBoosts'> {
  const dips = findings.filter(({ kind }) => kind === 'dip');
  const others = mergeRanges(dips.filter((dip) => !isOwnDip(dip)).map(besideIt));
  const own = mergeRanges(
    dips.filter(isOwnDip).map((dip) => about(dip.frequencyHz, mendedWithinOctaves(dip))),
  );
  const spans = others.flatMap((span) => without(span, own));
  return spans.length === 0 ? {} : { wideBoosts: { maxQ: BROAD_Q, spans } };
}

function besideIt({ frequencyHz, widthOctaves, zone }: Finding): FrequencyRange {
  const around = about(frequencyHz, Math.max(widthOctaves, BESIDE_OCTAVES));
  return {
    fromHz: Math.min(around.fromHz, zone?.fromHz ?? frequencyHz),
    toHz: Math.max(around.toHz, zone?.toHz ?? frequencyHz),
  };
}

function about(hz: number, octaves: number): FrequencyRange {
  return { fromHz: hz * pow2(-octaves), toHz: hz * pow2(octaves) };
}
