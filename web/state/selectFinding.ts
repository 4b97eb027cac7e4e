import { cursorHz, selectedHz } from '../chart/chartState.js';

/** Looks at a finding, in the list and on the chart; `bring` says which of the two is to come into sight. */
export function selectFinding(frequencyHz: number | undefined, bring: 'list' | 'chart'): void {
  selectedHz.value = frequencyHz;
  if (frequencyHz === undefined) return;
  cursorHz.value = frequencyHz;
  const where = bring === 'list' ? `[data-finding="${frequencyHz}"]` : '.board';
  requestAnimationFrame(() => document.querySelector(where)?.scrollIntoView({ block: 'nearest' }));
}
