import type { Design } from '../schema/design.js';
import { formatInputGain } from './formatInputGain.js';
import { qConventionWords } from './qConventionWords.js';

/** What has to be set besides the filters, one line each. */
export function settingsLines(design: Design): string[] {
  return [
    `Sample rate: ${design.sampleRateHz} Hz`,
    `Input gain:  ${formatInputGain(design.inputGainDb)}, ahead of the filters`,
    `Q:           ${qConventionWords}`,
  ];
}
