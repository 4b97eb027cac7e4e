import type { Design } from '../schema/design.js';
import { formatFrequency } from '../units/formatFrequency.js';
import { boostWords } from './boostWords.js';
import { cleanText } from './cleanText.js';
import { conclusion } from './conclusion.js';
import { designColumns } from './designColumns.js';
import { errorPair } from './errorPair.js';
import { adviceWords, causeWords, findingName } from './findingWords.js';
import { formatDb, formatSignedDb } from './formatDb.js';
import { joinWords } from './joinWords.js';
import { padTable } from './padTable.js';
import { kneeWords, leftOverWords, positionsWords, repeatabilityWords } from './remains/remainsWords.js';
import { settingsLines } from './settingsLines.js';
import { shelfWords } from './shelfWords.js';
import { wrapText } from './wrapText.js';

const WIDTH = 100;

function figures(design: Design): string[] {
  const { error, unevenness, limits, eq } = design;
  const uneven = errorPair(unevenness.beforeRmsDb, unevenness.afterRmsDb);
  const rms = errorPair(error.beforeRmsDb, error.afterRmsDb);
  const max = errorPair(error.beforeMaxDb, error.afterMaxDb);
  return [
    `Unevenness: ${uneven.before} dB RMS before, ${uneven.after} dB after, each about its own mean level`,
    `Error:      ${rms.before} dB RMS before, ${rms.after} dB after, about the target's level (greatest ${max.before} and ${max.after} dB)`,
    `Target:     ${cleanText(design.target)}, level ${formatDb(design.levelDb)}`,
    `Bands:      ${design.filters.length} used of ${limits.bands} allowed`,
    `Most boost: ${boostWords(eq)}, of ${formatDb(limits.maxBoostDb)} allowed`,
    ...remains(design),
    ...(design.rangeExplanation === undefined
      ? []
      : [cleanText(design.rangeExplanation).replace(/^Range:? /, 'Range:      ')]),
  ];
}

/** What to know of the filters, what the error that is left consists of, and what would change it. */
function remains(design: Design): string[] {
  const lines: readonly (readonly [string, string | undefined])[] = [
    ['Shelves:', shelfWords(design)],
    ['Left over:', leftOverWords(design)],
    ['More bands:', kneeWords(design)],
    ['Positions:', positionsWords(design)],
    ['Repeats:', repeatabilityWords(design)],
  ];
  return lines.flatMap(([name, words]) => (words === undefined ? [] : [name.padEnd(12) + words]));
}

function leftAlone(design: Design): string[] {
  const moves = design.findings
    .filter((finding) => finding.verdict === 'move')
    .sort((a, b) => a.frequencyHz - b.frequencyHz)
    .map(
      (finding) =>
        `- ${findingName(finding)}, ${formatSignedDb(finding.levelDb)}, ${causeWords(finding.cause)}: ${adviceWords(finding)}`,
    );
  const leave = design.findings.filter((finding) => finding.verdict === 'leave');
  const unfilled = leave.filter(({ zone }) => zone !== undefined);
  const left = leave.filter(({ zone }) => zone === undefined);
  const peaks = left.filter((finding) => finding.kind === 'peak').length;
  const count = (n: number, noun: string) => (n === 0 ? [] : [`${n} ${noun}${n === 1 ? '' : 's'}`]);
  const rest =
    left.length === 0
      ? []
      : [
          `- ${joinWords([...count(peaks, 'peak'), ...count(left.length - peaks, 'dip')])} too small, too narrow or too uncertain to touch`,
        ];
  const lines = [...moves, ...notFilled(unfilled), ...rest];
  return lines.length === 0 ? [] : ['', 'Left alone', ...lines];
}

function notFilled(dips: Design['findings']): string[] {
  if (dips.length === 0) return [];
  const [them, where] = dips.length === 1 ? ['it', 'dip at'] : ['them', 'dips at'];
  const list = joinWords(dips.map(({ frequencyHz }) => formatFrequency(frequencyHz)));
  return [
    `- ${where} ${list}, too uncertain or too high up to be moved away: not filled, the EQ goes on as the curve beside ${them} asks`,
  ];
}

/** The terminal's short summary: plain words first, then what to enter, then the warnings. No colour codes. */
export function summaryText(design: Design): string {
  const filters =
    design.filters.length === 0 ? ['No filters: leave the equalizer flat.'] : padTable(designColumns(design));
  const warnings =
    design.warnings.length === 0
      ? []
      : [
          '',
          'Warnings',
          ...design.warnings.map((warning) =>
            wrapText(`- ${cleanText(warning.message)} [${cleanText(warning.code)}]`, WIDTH, '  '),
          ),
        ];
  return `${[
    cleanText(design.title),
    wrapText(conclusion(design), WIDTH),
    '',
    ...figures(design).map((line) => wrapText(line, WIDTH, ' '.repeat(12))),
    ...leftAlone(design),
    '',
    'Filters',
    ...settingsLines(design),
    ...filters,
    ...warnings,
  ].join('\n')}\n`;
}
