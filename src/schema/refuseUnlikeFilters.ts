import { InputError } from '../inputError.js';
import type { Design } from './design.js';

/** What no fit leaves, but an editor may: filters that the sample rate cannot hold, and settings that are not theirs. */
export function refuseUnlikeFilters(
  { filters, deviceSettings, sampleRateHz }: Pick<Design, 'filters' | 'deviceSettings' | 'sampleRateHz'>,
  fileName: string,
): void {
  const tooHigh = filters.findIndex(({ frequencyHz }) => frequencyHz >= sampleRateHz / 2);
  if (tooHigh >= 0) {
    throw new InputError(
      `${fileName}: filters[${tooHigh}].frequencyHz: found ${filters[tooHigh]!.frequencyHz}, expected less than ` +
        `${sampleRateHz / 2}, half of sampleRateHz`,
    );
  }
  if (deviceSettings && deviceSettings.length !== filters.length) {
    throw new InputError(
      `${fileName}: found ${deviceSettings.length} in deviceSettings, expected ${filters.length}, one for each of filters`,
    );
  }
}
