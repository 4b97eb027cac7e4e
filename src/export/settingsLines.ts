import type { Design } from '../schema/design.js';
import { deviceCostWords, deviceQWords } from './deviceWords.js';
import { formatInputGain } from './formatInputGain.js';
import { qConventionWords } from './qConventionWords.js';
import { wrapText } from './wrapText.js';

const WIDTH = 100;

/** What has to be set besides the filters, one line each. */
export function settingsLines(design: Design): string[] {
  const device = deviceCostWords(design);
  const entered = deviceQWords(design);
  return [
    ...(device === undefined ? [] : [`Device:      ${device}`]),
    `Sample rate: ${design.sampleRateHz} Hz`,
    `Input gain:  ${formatInputGain(design.inputGainDb)}, ahead of the filters`,
    `Q:           ${qConventionWords}`,
    ...(entered === undefined ? [] : [wrapText(`To enter:    ${entered}`, WIDTH, ' '.repeat(13))]),
  ];
}
