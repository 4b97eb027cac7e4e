import type { Design } from '../../schema/design.js';
import { cautions } from '../words/cautions.js';
import { cleanText } from '../words/cleanText.js';
import { NO_FILTERS } from '../words/noFilters.js';
import { padTable } from '../words/padTable.js';
import { settingsLines } from '../words/settingsLines.js';
import { wrapText } from '../words/wrapText.js';
import { designColumns } from './designColumns.js';

const WIDTH = 78;

/** `filters.txt`: what to type into the equalizer, in words and aligned columns, with the usual cautions. */
export function filterTable(design: Design): string {
  const title = cleanText(design.title);
  return `${[
    wrapText(title === '' ? 'Correction filters' : `Correction filters for: ${title}`, WIDTH),
    '',
    ...settingsLines(design),
    '',
    ...(design.filters.length === 0
      ? [NO_FILTERS]
      : [
          ...padTable(designColumns(design)),
          '',
          wrapText(orderWords(design), WIDTH),
          wrapText(
            `They fit the speaker, the place and the microphone ${design.positions ? 'positions' : 'position'} that were measured, no others.`,
            WIDTH,
          ),
        ]),
    '',
    'Cautions',
    ...cautions.map((caution) => wrapText(`- ${caution.title}: ${caution.text}`, WIDTH, '  ')),
  ].join('\n')}\n`;
}

/** Between the bands of a device with little headroom the order does matter. */
function orderWords({ device }: Design): string {
  const order =
    device?.headroomDb === undefined
      ? 'their order does not matter'
      : 'the input gain holds for the order of the bands as they are numbered';
  return `The filters work one after another on the same signal; ${order}.`;
}
