import type { Filter } from '../filter/filter.js';
import { InputError } from '../inputError.js';

/**
 * Sees that filters that somebody chose can run at a sample rate.
 *
 * @throws InputError naming the first that stands at half the rate or above
 */
export function checkBelowHalfRate(filters: readonly Filter[], sampleRateHz: number): void {
  const beyond = filters.find(({ frequencyHz }) => !(frequencyHz < sampleRateHz / 2));
  if (!beyond) return;
  throw new InputError(
    `found a filter at ${Number(beyond.frequencyHz.toPrecision(6))} Hz, expected less than ${sampleRateHz / 2} Hz, ` +
      'half the sample rate',
  );
}
