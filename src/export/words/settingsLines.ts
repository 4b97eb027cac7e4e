import type { Design } from '../../schema/design.js';
import { deviceCostWords, deviceQWords } from './deviceWords.js';
import { formatInputGain } from './formatInputGain.js';
import { qConventionWords } from './qConventionWords.js';
import { wrapText } from './wrapText.js';

const WIDTH = 100;

/** What the device itself does to level and time; what is said begins at this column. */
export function insideLines({ device }: Pick<Design, 'device'>, column = 0): string[] {
  const { headroomDb, insideMaxDb = 0, delay } = device ?? {};
  return [
    ...(headroomDb === undefined
      ? []
      : [
          `${'Headroom:'.padEnd(column)}${column > 0 ? '' : ' '}${headroomDb} dB above full scale between the bands, of which these filters, in this order of bands, ` +
            `ask for ${insideMaxDb.toFixed(2)} dB without the input gain`,
        ]),
    ...(delay
      ? [
          `${'Delay:'.padEnd(column)}${column > 0 ? '' : ' '}${delay.ms} ms in the equalizer (${delay.samples} samples); give other channels as much`,
        ]
      : []),
  ];
}

/** What has to be set besides the filters, one line each. */
export function settingsLines(design: Design): string[] {
  const device = deviceCostWords(design);
  const entered = deviceQWords(design);
  return [
    ...(device === undefined ? [] : [`Device:      ${device}`]),
    `Sample rate: ${design.sampleRateHz} Hz`,
    `Input gain:  ${formatInputGain(design.inputGainDb)}, ahead of the filters`,
    ...insideLines(design, 13).map((line) => wrapText(line, WIDTH, ' '.repeat(13))),
    `Q:           ${qConventionWords}`,
    ...(entered === undefined ? [] : [wrapText(`To enter:    ${entered}`, WIDTH, ' '.repeat(13))]),
  ];
}
