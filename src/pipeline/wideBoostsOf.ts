import type { FrequencyRange } from '../curve/curve.js';
import type { Finding } from '../diagnosis/finding.js';
import { pow2 } from '../elementary/exponential.js';
import type { FitLimits } from '../fit/fitProblem.js';

/** Half an octave between the points of half the gain. */
const BROAD_Q = 3;

/**
 * Where a dip is not clearly the speaker's own, no band is spent on filling it: what boosts there boosts broadly. That
 * boosts are better wide than narrow is common practice, no published source.
 */
export function wideBoostsOf(findings: readonly Finding[]): Pick<FitLimits, 'wideBoosts'> {
  const spans = findings.filter(isNotOwn).map(spanOf);
  return spans.length === 0 ? {} : { wideBoosts: { maxQ: BROAD_Q, spans } };
}

function isNotOwn({ kind, verdict, cause, zone }: Finding): boolean {
  return kind === 'dip' && verdict !== 'equalize' && (cause.type !== 'speaker' || zone !== undefined);
}

/** From flank to flank: twice the width at half the depth. */
function spanOf({ frequencyHz, widthOctaves, zone }: Finding): FrequencyRange {
  const fromHz = frequencyHz * pow2(-widthOctaves);
  const toHz = frequencyHz * pow2(widthOctaves);
  return { fromHz: Math.min(fromHz, zone?.fromHz ?? fromHz), toHz: Math.max(toHz, zone?.toHz ?? toHz) };
}
