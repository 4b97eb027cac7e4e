import type { FrequencyRange } from '../../curve/curve.js';

/** What is left of a span outside others, which are ascending and apart. */
export function without(span: FrequencyRange, others: readonly FrequencyRange[]): FrequencyRange[] {
  const left: FrequencyRange[] = [];
  let { fromHz } = span;
  for (const other of others) {
    if (other.toHz <= fromHz || other.fromHz >= span.toHz) continue;
    if (other.fromHz > fromHz) left.push({ fromHz, toHz: other.fromHz });
    fromHz = Math.max(fromHz, other.toHz);
  }
  return fromHz < span.toHz ? [...left, { fromHz, toHz: span.toHz }] : left;
}
