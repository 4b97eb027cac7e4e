import type { Design } from '../../schema/design.js';
import { kneeWords, leftOverWords, positionsWords, repeatabilityWords } from '../remains/remainsWords.js';
import { designColumns } from '../tables/designColumns.js';
import { allowedLimit, askedWords } from '../words/allowedLimits.js';
import { boostWords } from '../words/boostWords.js';
import { cleanText } from '../words/cleanText.js';
import { conclusion } from '../words/conclusion.js';
import { errorPair } from '../words/errorPair.js';
import { formatDb } from '../words/formatDb.js';
import { limitWords } from '../words/limitWords.js';
import { NO_FILTERS } from '../words/noFilters.js';
import { padTable } from '../words/padTable.js';
import { settingsLines } from '../words/settingsLines.js';
import { shelfWords } from '../words/shelfWords.js';
import { toldWarnings } from '../words/toldWarnings.js';
import { wrapText } from '../words/wrapText.js';
import { leftAloneLines } from './leftAloneLines.js';

const WIDTH = 100;

function figures(design: Design): string[] {
  const { error, unevenness } = design;
  const bands = allowedLimit(design, 'bands');
  const boost = allowedLimit(design, 'maxBoostDb');
  const uneven = errorPair(unevenness.beforeRmsDb, unevenness.afterRmsDb);
  const rms = errorPair(error.beforeRmsDb, error.afterRmsDb);
  const max = errorPair(error.beforeMaxDb, error.afterMaxDb);
  return [
    `Unevenness: ${uneven.before} dB RMS before, ${uneven.after} dB after, each about its own mean level`,
    `Error:      ${rms.before} dB RMS before, ${rms.after} dB after, about the target's level (greatest ${max.before} and ${max.after} dB)`,
    ...withZones(design),
    `Target:     ${cleanText(design.target)}, level ${formatDb(design.levelDb)}`,
    `Bands:      ${design.filters.length} used of ${bands.value} allowed${askedWords(bands, String)}`,
    `Most boost: ${boostWords(design)}, of ${formatDb(boost.value)} allowed${askedWords(boost, formatDb)}`,
    ...remains(design),
    ...(design.rangeExplanation === undefined
      ? []
      : [cleanText(design.rangeExplanation).replace(/^Range:? /, 'Range:      ')]),
  ];
}

/** A dip that is left alone stays in what is heard: the figures that leave it out say nothing of it. */
function withZones({ zones, errorWithZones }: Design): string[] {
  if (zones.length === 0) return [];
  const rms = errorPair(errorWithZones.beforeRmsDb, errorWithZones.afterRmsDb);
  const max = errorPair(errorWithZones.beforeMaxDb, errorWithZones.afterMaxDb);
  return [
    `All of it:  ${rms.before} dB RMS before, ${rms.after} dB after, spans left alone counted too (greatest ${max.before} and ${max.after} dB)`,
  ];
}

/** What to know of the filters, what the error that is left consists of, and what would change it. */
function remains(design: Design): string[] {
  const lines: readonly (readonly [string, string | undefined])[] = [
    ['Shelves:', shelfWords(design)],
    ['At limits:', limitsLine(design)],
    ['Left over:', leftOverWords(design)],
    ['More bands:', kneeWords(design)],
    ['Positions:', positionsWords(design)],
    ['Repeats:', repeatabilityWords(design)],
  ];
  return lines.flatMap(([name, words]) => (words === undefined ? [] : [name.padEnd(12) + words]));
}

/** What keeps the filters from going further: "Filter 4: Q at its least; mean of the EQ over the range: as low as allowed". */
function limitsLine({ fit: { limitsReached } }: Design): string | undefined {
  const [first, ...others] = limitsReached.map((limit) => cleanText(limitWords(limit)));
  if (first === undefined) return undefined;
  return [first, ...others.map((words) => words.charAt(0).toLowerCase() + words.slice(1))].join('; ');
}

function warningLines({ warnings }: Design): string[] {
  const lines = toldWarnings(warnings, 'above, under "Left alone"').map(
    ({ message, code }) => `- ${cleanText(message)} [${cleanText(code)}]`,
  );
  return lines.length === 0 ? [] : ['', 'Warnings', ...lines.map((line) => wrapText(line, WIDTH, '  '))];
}

/** The terminal's short summary: plain words first, then what to enter, then the warnings. No colour codes. */
export function summaryText(design: Design): string {
  const filters = design.filters.length === 0 ? [NO_FILTERS] : padTable(designColumns(design));
  return `${[
    cleanText(design.title),
    wrapText(conclusion(design), WIDTH),
    '',
    ...figures(design).map((line) => wrapText(line, WIDTH, ' '.repeat(12))),
    ...leftAloneLines(design).map((line) => wrapText(line, WIDTH, '  ')),
    '',
    'Filters',
    ...settingsLines(design),
    ...filters,
    ...warningLines(design),
  ].join('\n')}\n`;
}
