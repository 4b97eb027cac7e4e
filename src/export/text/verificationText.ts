import type { Verification } from '../../schema/verification.js';
import { formatFrequency } from '../../units/formatFrequency.js';
import { cleanText } from '../words/cleanText.js';
import { fixedDecimals } from '../words/fixedDecimals.js';
import { formatDb, formatSignedDb } from '../words/formatDb.js';
import { joinWords } from '../words/joinWords.js';
import { padTable } from '../words/padTable.js';
import { wrapText } from '../words/wrapText.js';

const WIDTH = 100;

/** What `nullwise verify` says: the verdict in plain words, what is wrong with the fix, then the figures. */
export function verificationText(verification: Verification): string {
  const { faults, warnings } = verification;
  const wrap = (text: string, indent = '') => wrapText(text, WIDTH, indent);
  return `${[
    cleanText(verification.title),
    wrap(verdict(verification)),
    ...faults.flatMap((fault, i) => [
      '',
      wrap(`${i + 1}. ${cleanText(fault.message)}`, '   '),
      wrap(`   What to do: ${cleanText(fault.fix)}`, '   '),
    ]),
    '',
    ...figures(verification).map((line) => wrap(line, ' '.repeat(13))),
    '',
    ...octaves(verification),
    ...(warnings.length === 0 ? [] : ['', 'Warnings']),
    ...warnings.map(({ code, message }) => wrap(`- ${cleanText(message)} [${cleanText(code)}]`, '  ')),
  ].join('\n')}\n`;
}

/** What differs without a fault. */
const USUAL = 'noise and a microphone a few centimetres off';

/** From this share on, what would remain asks for a word on what usually does. */
const MUCH_OF_IT = 0.5;

function verdict(verification: Verification): string {
  const { asPromised, faults, errorRmsDb, remainingRmsDb, expectedRmsDb, octaves: rows } = verification;
  const apart = `Measured and promised differ by ${formatDb(errorRmsDb)} RMS`;
  if (asPromised) {
    const farther = rows.filter(isFarApart).map(({ centreHz }) => formatFrequency(centreHz));
    if (farther.length === 0) {
      return `As promised. ${apart}, as ${USUAL} leave it.`;
    }
    return (
      `As promised, as far as this measurement tells: no fault of the filters explains what is there. ${apart}, ` +
      `around ${joinWords(farther)} more than twice what ${USUAL} usually leave: ` +
      'put speaker and microphone back to where they were and measure again to be surer.'
    );
  }
  const count = faults.length === 1 ? 'One thing seems' : `${faults.length} things seem`;
  const usual =
    remainingRmsDb > MUCH_OF_IT * errorRmsDb ? ` (${USUAL} usually leave ${formatDb(expectedRmsDb)})` : '';
  const rest = faults.some(({ type }) => type !== 'speakerMoved' && type !== 'unknown')
    ? `; about ${formatDb(remainingRmsDb)} would remain with what is named below put right${usual}`
    : '';
  return `NOT as promised. ${count} to have gone wrong. ${apart}${rest}.`;
}

function figures(verification: Verification): string[] {
  const { promised, measured } = verification.targetErrorRmsDb;
  return [
    `Compared:    ${comparedWords(verification)}`,
    `Unevenness:  ${formatDb(promised)} RMS about the target promised, ${formatDb(measured)} measured`,
    `Level:       ${formatSignedDb(verification.levelShiftDb)} against the promise (not counted)`,
    ...(verification.faults.length > 0
      ? [
          `Shares:      of the misfit in units of what ${USUAL} leave at each ` +
            'frequency, not of the dB above: where they leave much, a difference counts little',
        ]
      : []),
    ...(verification.qConventions.length > 0 && verification.faults.some(({ type }) => type === 'qConvention')
      ? [
          `Readings of Q that explain most: ${verification.qConventions
            .slice(0, 4)
            .map(
              ({ name, direction, explains }) =>
                `${name}${direction === 'converted' ? ' (converted)' : ''} ${Math.round(100 * Math.max(0, explains))} %`,
            )
            .join(', ')}`,
        ]
      : []),
  ];
}

function comparedWords({ compared: { after, before, beforeFrom } }: Verification): string {
  const one = (n: number) => (n === 1 ? 'one measurement' : `the average of ${n} measurements`);
  const promise =
    beforeFrom === 'measurement'
      ? `${one(before)} with them off, plus what the filters add`
      : `what the design promises of ${before === 1 ? 'its own measurement' : `the average of its ${before} positions`}`;
  return `${one(after)} with the filters on, with ${promise}`;
}

/** Farther from the promise than noise and a microphone put back leave it. */
const isFarApart = ({ differenceRmsDb, expectedRmsDb }: Verification['octaves'][number]): boolean =>
  differenceRmsDb > 2 * expectedRmsDb;

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
