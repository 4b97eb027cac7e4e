import type { Design } from '../schema/design.js';
import { columnDecimals } from './columnDecimals.js';
import { qConventionWords } from './qConventionWords.js';

/** What has to be set besides the filters, one line each. */
export function settingsLines(design: Design): string[] {
  const [inputGain] = columnDecimals([design.inputGainDb], 3);
  return [
    `Sample rate: ${design.sampleRateHz} Hz`,
    `Input gain:  ${inputGain} dB, ahead of the filters`,
    `Q:           ${qConventionWords}`,
  ];
}
