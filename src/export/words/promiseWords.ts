import { qConventions as meanings } from '../../filter/qConventions.js';
import type { Verification } from '../../schema/verification.js';
import { formatFrequency } from '../../units/formatFrequency.js';
import { formatDb, formatSignedDb } from './formatDb.js';
import { joinWords } from './joinWords.js';

/** What differs without a fault. */
const USUAL = 'noise and a microphone a few centimetres off';

/** From this share on, what would remain asks for a word on what usually does. */
const MUCH_OF_IT = 0.5;

/** Whether it is as promised, and how far measured and promised lie apart. */
export function promiseWords(verification: Verification): string {
  const {
    asPromised,
    faults,
    errorRmsDb,
    remainingRmsDb,
    expectedRmsDb,
    octaves: rows,
    warnings,
  } = verification;
  const apart = `Measured and promised differ by ${formatDb(errorRmsDb)} RMS`;
  if (asPromised) {
    const farther = rows.filter(isFarApart).map(({ centreHz }) => formatFrequency(centreHz));
    if (farther.length === 0) {
      const hides = warnings.some(({ code }) => code === 'hidden-by-smoothing');
      return `As promised${hides ? ', but for what smoothing hides (see the warnings)' : ''}. ${apart}, as ${USUAL} leave it.`;
    }
    return (
      `As promised, as far as this measurement tells: no fault of the filters explains what is there. ${apart}, ` +
      `around ${joinWords(farther)} more than twice what ${USUAL} usually leave: ` +
      'put speaker and microphone back to where they were and measure again to be surer.'
    );
  }
  const spread = spreadWords(verification);
  if (spread !== undefined) return `${spread} ${apart}.`;
  const count = faults.length === 1 ? 'One thing seems' : `${faults.length} things seem`;
  const usual =
    remainingRmsDb > MUCH_OF_IT * errorRmsDb ? ` (${USUAL} usually leave ${formatDb(expectedRmsDb)})` : '';
  const rest = faults.some(({ type }) => type !== 'speakerMoved' && type !== 'unknown')
    ? `; about ${formatDb(remainingRmsDb)} would remain with what is named below put right${usual}`
    : '';
  return `NOT as promised. ${count} to have gone wrong. ${apart}${rest}.`;
}

/** Where only what positions differ by anyway stands between promise and measurement, that is no verdict on the filters. */
function spreadWords({ faults, compared, warnings }: Verification): string | undefined {
  const isSpread =
    compared.after < compared.before &&
    warnings.some(({ code }) => code === 'compared-with-average') &&
    faults.every(
      ({ type, filter }) => filter === undefined && (type === 'speakerMoved' || type === 'unknown'),
    );
  if (!isSpread) return undefined;
  const at =
    compared.after === 1
      ? `at one of ${compared.before} positions`
      : `at ${compared.after} of ${compared.before} positions`;
  return (
    `Not to be told: measured ${at} and held against their average, from which each position differs whatever the ` +
    'filters do. No filter is found to be wrong, and what is named below may be that difference.'
  );
}

/** What was compared, and with what result: name and words of each. */
export function promiseFigures(verification: Verification): (readonly [name: string, words: string])[] {
  const { faults, qConventions, levelShiftDb, targetErrorRmsDb } = verification;
  const readings = qConventions
    .slice(0, 4)
    .map(
      ({ name, direction, explains }) =>
        `${meanings[name].called}${direction === 'converted' ? ' (converted)' : ''} ${Math.round(100 * Math.max(0, explains))} %`,
    );
  return [
    ['Compared', comparedWords(verification)],
    ...(targetErrorRmsDb ? ([['Unevenness', unevennessWords(targetErrorRmsDb)]] as const) : []),
    ['Level', `${formatSignedDb(levelShiftDb)} against the promise (not counted)`],
    ...notShownWords(verification),
    ...(faults.length > 0
      ? ([
          [
            'Shares',
            `of the misfit in units of what ${USUAL} leave at each ` +
              'frequency, not of the dB above: where they leave much, a difference counts little',
          ],
        ] as const)
      : []),
    ...(readings.length > 0 && faults.some(({ type }) => type === 'qConvention')
      ? ([['Readings of Q that explain most', readings.join('; ')]] as const)
      : []),
  ];
}

/** What is promised of another curve than the design's own, or of less of it, is not the figure that stands in the design. */
function unevennessWords({
  promised,
  measured,
  stated,
}: NonNullable<Verification['targetErrorRmsDb']>): string {
  const told = formatDb(promised);
  const isOther = stated !== undefined && formatDb(stated) !== told;
  return `${told} RMS about the target promised${
    isOther ? ` (${formatDb(stated)} in the design: of its own curve as it came, over its whole range)` : ''
  }, ${formatDb(measured)} measured`;
}

/** What this measurement would not have shown for sure, so that "as promised" says no more than it can. */
function notShownWords({ wouldNotShow, faults }: Verification): (readonly [name: string, words: string])[] {
  if (!wouldNotShow) return [];
  const named = faults.flatMap(({ filter }) => (filter === undefined ? [] : [filter]));
  const { missing } = wouldNotShow;
  const of = (hidden: readonly number[], but: readonly number[], words: (filters: string) => string) => {
    const left = hidden.filter((index) => !named.includes(index) && !but.includes(index));
    return left.length === 0
      ? []
      : [words(joinWords(left.map((index) => `filter ${index + 1}`)).replace(' and ', ' or '))];
  };
  const told = [
    ...of(missing, [], (filters) => `${filters} missing`),
    ...of(wouldNotShow.frequency, missing, (filters) => `${filters} half an octave off`),
    ...of(wouldNotShow.q, missing, (filters) => `${filters} with three times its Q or a third of it`),
  ];
  return told.length === 0
    ? [
        [
          'Would show',
          'any single filter missing, half an octave off, or with three times its Q or a third of it',
        ],
      ]
    : [['Might not show', `${told.join('; ')}. So much ${USUAL} hide, and what is less as well`]];
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
export const isFarApart = ({ differenceRmsDb, expectedRmsDb }: Verification['octaves'][number]): boolean =>
  differenceRmsDb > 2 * expectedRmsDb;
