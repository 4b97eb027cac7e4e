import type { Filter } from '../../src/filter/filter.js';
import { formatFrequency } from '../../src/units/formatFrequency.js';
import { decimals } from './decimals.js';

/** A filter's numbers, with as many decimals as they need: "1.2 kHz, -3.25 dB, Q 1.125". */
export function filterWords({ frequencyHz, gainDb, q }: Filter): string {
  return `${formatFrequency(frequencyHz)}, ${decimals(gainDb, 1, 2)} dB, Q ${decimals(q, 2, 3)}`;
}
