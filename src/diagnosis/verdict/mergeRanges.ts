import type { FrequencyRange } from '../../curve/curve.js';

/** Ranges in ascending order, those that overlap or touch made one. */
export function mergeRanges(ranges: readonly FrequencyRange[]): FrequencyRange[] {
  const merged: FrequencyRange[] = [];
  for (const range of [...ranges].sort((a, b) => a.fromHz - b.fromHz)) {
    const last = merged[merged.length - 1];
    if (last && range.fromHz <= last.toHz) {
      merged[merged.length - 1] = { fromHz: last.fromHz, toHz: Math.max(last.toHz, range.toHz) };
    } else merged.push(range);
  }
  return merged;
}
