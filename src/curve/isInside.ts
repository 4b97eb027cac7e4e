import type { FrequencyRange } from './curve.js';

/** Whether a frequency lies in one of several spans, their ends included. */
export function isInside(hz: number, spans: readonly FrequencyRange[]): boolean {
  return spans.some(({ fromHz, toHz }) => hz >= fromHz && hz <= toHz);
}
