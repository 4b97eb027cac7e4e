import type { FrequencyRange } from '../../curve/curve.js';
import { formatFrequency } from '../../units/formatFrequency.js';

/** A span for reading: "55 Hz to 16 kHz". */
export function formatSpan(range: FrequencyRange): string {
  return `${formatFrequency(range.fromHz)} to ${formatFrequency(range.toHz)}`;
}
