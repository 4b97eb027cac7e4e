import { bankMaximum } from '../../filter/bankMaximum.js';
import type { Design } from '../../schema/design.js';
import { formatFrequency } from '../../units/formatFrequency.js';
import { formatDb } from './formatDb.js';

/** Below this no one asks where exactly: a shelf is flat there, down to 0 Hz. */
const LOWEST_HZ = 10;

/**
 * The greatest sum of the filters and where it is, "2.6 dB at 118 Hz"; "none" where nothing is boosted. Where it lies
 * outside the design's range the greatest within it comes first.
 */
export function boostWords({
  eq: { maxDb, maxAtHz },
  range: { fromHz, toHz },
  filters,
  sampleRateHz,
}: Pick<Design, 'eq' | 'range' | 'filters' | 'sampleRateHz'>): string {
  const overall = words(maxDb, maxAtHz);
  if (!(maxDb > 0) || (maxAtHz >= fromHz && maxAtHz <= toHz)) return overall;
  const nyquistHz = sampleRateHz / 2;
  const inside = bankMaximum(filters, sampleRateHz, Math.min(fromHz, nyquistHz), Math.min(toHz, nyquistHz));
  return formatDb(inside.maxDb) === formatDb(maxDb)
    ? words(inside.maxDb, inside.atHz)
    : `${words(inside.maxDb, inside.atHz)} (${overall}, outside the range)`;
}

function words(maxDb: number, atHz: number): string {
  if (!(maxDb > 0)) return 'none';
  return `${formatDb(maxDb)} ${atHz < LOWEST_HZ ? `below ${formatFrequency(LOWEST_HZ)}` : `at ${formatFrequency(atHz)}`}`;
}
