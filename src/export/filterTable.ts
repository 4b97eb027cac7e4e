import type { Design } from '../schema/design.js';
import { cautions } from './cautions.js';
import { cleanText } from './cleanText.js';
import { designColumns } from './designColumns.js';
import { padTable } from './padTable.js';
import { settingsLines } from './settingsLines.js';
import { wrapText } from './wrapText.js';

const WIDTH = 78;

/** `filters.txt`: what to type into the equalizer, in words and aligned columns, with the usual cautions. */
export function filterTable(design: Design): string {
  const title = cleanText(design.title);
  const rows =
    design.filters.length === 0 ? ['No filters: leave the equalizer flat.'] : padTable(designColumns(design));
  return `${[
    wrapText(title === '' ? 'Correction filters' : `Correction filters for: ${title}`, WIDTH),
    '',
    ...settingsLines(design),
    '',
    ...rows,
    '',
    wrapText(orderWords(design), WIDTH),
    wrapText(
      'They fit the speaker, the place and the microphone position that were measured, no others.',
      WIDTH,
    ),
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
