import type { Design } from '../../schema/design.js';

/** The last columns of every CSV of filters: the filters mean little without them, and full scale clips. */
export const wholeBankHeader = ['sample rate (Hz)', 'input gain (dB)'] as const;

/** The same in each row. */
export function wholeBankFields({
  sampleRateHz,
  inputGainDb,
}: Pick<Design, 'sampleRateHz' | 'inputGainDb'>): string[] {
  return [String(sampleRateHz), String(inputGainDb)];
}
