import type { Design } from '../schema/design.js';
import { formatFrequency } from '../units/formatFrequency.js';
import { formatDb } from './formatDb.js';

/** Below this no one asks where exactly: a shelf is flat there, down to 0 Hz. */
const LOWEST_HZ = 10;

/** The greatest sum of the filters and where it is, "2.6 dB at 118 Hz"; "none" where nothing is boosted. */
export function boostWords({ maxDb, maxAtHz }: Design['eq']): string {
  if (!(maxDb > 0)) return 'none';
  return `${formatDb(maxDb)} ${maxAtHz < LOWEST_HZ ? `below ${formatFrequency(LOWEST_HZ)}` : `at ${formatFrequency(maxAtHz)}`}`;
}
