import type { Verification } from '../../schema/verification.js';
import { formatFrequency } from '../../units/formatFrequency.js';
import { cleanText } from '../words/cleanText.js';
import { fixedDecimals } from '../words/fixedDecimals.js';
import { padTable } from '../words/padTable.js';
import { isFarApart, promiseFigures, promiseWords } from '../words/promiseWords.js';
import { wrapText } from '../words/wrapText.js';

const WIDTH = 100;
const FIGURE_INDENT = 13;

/** What `nullwise verify` says: the verdict in plain words, what is wrong with the fix, then the figures. */
export function verificationText(verification: Verification): string {
  const { faults, warnings } = verification;
  const wrap = (text: string, indent = '') => wrapText(text, WIDTH, indent);
  return `${[
    cleanText(verification.title),
    wrap(promiseWords(verification)),
    ...faults.flatMap((fault, i) => [
      '',
      wrap(`${i + 1}. ${cleanText(fault.message)}`, '   '),
      wrap(`   What to do: ${cleanText(fault.fix)}`, '   '),
    ]),
    '',
    ...promiseFigures(verification).map(([name, words]) =>
      wrap(`${`${name}:`.padEnd(FIGURE_INDENT - 1)} ${words}`, ' '.repeat(FIGURE_INDENT)),
    ),
    '',
    ...octaves(verification),
    ...(warnings.length === 0 ? [] : ['', 'Warnings']),
    ...warnings.map(({ code, message }) => wrap(`- ${cleanText(message)} [${cleanText(code)}]`, '  ')),
  ].join('\n')}\n`;
}

function octaves({ octaves: rows }: Verification): string[] {
  const column = (heading: string, cells: string[]) => ({ heading, align: 'right' as const, cells });
  return [
    'What the filters add, level left out',
    ...padTable([
      column(
        'Octave',
        rows.map(({ centreHz }) => formatFrequency(centreHz)),
      ),
      column(
        'Promised (dB)',
        rows.map(({ promisedDb }) => fixedDecimals(promisedDb, 1)),
      ),
      column(
        'Measured (dB)',
        rows.map(({ measuredDb }) => fixedDecimals(measuredDb, 1)),
      ),
      column(
        'Apart (dB RMS)',
        rows.map(({ differenceRmsDb }) => fixedDecimals(differenceRmsDb, 1)),
      ),
      column(
        'Usual',
        rows.map(({ expectedRmsDb }) => fixedDecimals(expectedRmsDb, 1)),
      ),
      {
        heading: '',
        align: 'left' as const,
        cells: rows.map((row) => (isFarApart(row) ? '<-' : '')),
      },
    ]),
  ];
}
