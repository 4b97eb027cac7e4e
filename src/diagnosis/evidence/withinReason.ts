import type { Evidence } from './evidence.js';

/** e to this power, some 400, is what one curve may count for against other measurements. */
const MOST_BY_CURVE = 6;

export interface Weighed extends Evidence {
  readonly logOdds: number;
}

/**
 * One curve can look like a placement's, and no more, whatever its terms add up to: what else was measured has to be able
 * to speak against it. Where nothing else was, this changes no verdict.
 */
export function withinReason(evidence: readonly Weighed[]): readonly Weighed[] {
  const byCurve = evidence.filter((e) => e.byCurve === true);
  const excess = byCurve.reduce((sum, e) => sum + e.logOdds, 0) - MOST_BY_CURVE;
  if (excess <= 0 || byCurve.length === evidence.length) return evidence;
  return [...evidence, { label: 'one curve tells no more', terms: [], logOdds: -excess }];
}
