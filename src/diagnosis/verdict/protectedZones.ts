import type { FrequencyRange } from '../../curve/curve.js';
import { without } from '../paths/without.js';
import type { Finding } from './finding.js';
import { mergeRanges } from './mergeRanges.js';

/** A span whose error does not count, and in which the EQ mends nothing. */
export interface ProtectedSpan extends FrequencyRange {
  /** `move`: nothing is boosted. `leave`: the EQ goes on as the curve on both sides asks for, as if there were no dip. */
  readonly verdict: 'move' | 'leave';
}

/** The spans of all findings that have one, ascending and apart: where two verdicts meet, `move` has its whole span. */
export function protectedZones(findings: readonly Finding[]): ProtectedSpan[] {
  const spans = (verdict: Finding['verdict']) =>
    mergeRanges(findings.flatMap((f) => (f.zone && f.verdict === verdict ? [f.zone] : [])));
  const move = spans('move');
  const leave = spans('leave').flatMap((span) => without(span, move));
  return [
    ...move.map((span) => ({ ...span, verdict: 'move' as const })),
    ...leave.map((span) => ({ ...span, verdict: 'leave' as const })),
  ].sort((a, b) => a.fromHz - b.fromHz);
}
