import { bankMaximum } from './bankMaximum.js';
import type { Filter } from './filter.js';

/**
 * The digital gain in dB, at most 0, ahead of the bank that keeps its greatest gain at or below 0 dB, from 0 Hz to
 * half the sample rate and between grid points: the maximum taken negative, rounded away from zero to 0.01 dB.
 */
export function inputGainDb(filters: readonly Filter[], sampleRateHz: number): number {
  return inputGainForDb(bankMaximum(filters, sampleRateHz).maxDb);
}

/** The same for a bank whose greatest gain is known. */
export function inputGainForDb(maxDb: number): number {
  // 1e-9 dB is the arithmetic's own noise: without it a maximum of exactly 6 dB could ask for 6.01 dB.
  const hundredths = Math.ceil((maxDb - 1e-9) * 100);
  return hundredths > 0 ? -hundredths / 100 : 0;
}
