import type { PredictedSurface, Prediction } from '../../schema/prediction.js';
import { formatFrequency } from '../../units/formatFrequency.js';
import { formatLength } from '../../units/formatLength.js';
import { cleanText } from '../words/cleanText.js';
import { fixedDecimals } from '../words/fixedDecimals.js';
import { formatDb } from '../words/formatDb.js';
import { padTable } from '../words/padTable.js';
import { shorten } from '../words/shorten.js';
import { wrapText } from '../words/wrapText.js';
import { variedLines } from './predictionVaried.js';

/** A terminal as it opens. */
const WIDTH = 80;
const MOST_DIPS = 3;
const NAME_WIDTH = 15;

/** What `nullwise predict` says, for someone who does it for the first time. No colour codes, 80 columns. */
export function predictionText(prediction: Prediction): string {
  const wrap = (text: string, indent = '') => wrapText(text, WIDTH, indent);
  const { surfaces, warnings, limits } = prediction;
  return `${[
    cleanText(prediction.title),
    ...(surfaces.length === 0
      ? [
          wrap(
            'The set-up names no surfaces, so there is nothing that could cancel. Name those near the speaker.',
          ),
        ]
      : [wrap(explanation(prediction)), '', ...surfaceLines(prediction)]),
    ...(prediction.fitted ? ['', ...fittedLines(prediction)] : []),
    ...(prediction.varied ? ['', ...variedLines(prediction, WIDTH)] : []),
    ...(prediction.roomModes ? ['', wrap(modeWords(prediction))] : []),
    '',
    'What this cannot know',
    ...limits.map((limit) => wrap(`- ${limit}`, '  ')),
    ...(warnings.length === 0 ? [] : ['', 'Warnings']),
    ...warnings.map(({ code, message }) => wrap(`- ${cleanText(message)} [${cleanText(code)}]`, '  ')),
  ].join('\n')}\n`;
}

function explanation({ microphoneDistanceM, lengthUnit, temperatureC }: Prediction): string {
  return (
    `Sound that comes by way of a surface arrives later. Where it is half a wave late it cancels a part of the ` +
    `direct sound: a dip that no equalizer fills. Speaker and microphone ${formatLength(microphoneDistanceM, lengthUnit)} apart, ` +
    `air at ${fixedDecimals(temperatureC, 0)} degC.`
  );
}

function surfaceLines(prediction: Prediction): string[] {
  const { surfaces, lengthUnit } = prediction;
  const rows = surfaces.flatMap((surface) => dipRows(surface, lengthUnit));
  const tolerant = rows.some(({ between }) => between !== '');
  const column = (heading: string, cells: string[], align: 'left' | 'right' = 'right') => ({
    heading,
    cells,
    align,
  });
  return [
    ...padTable([
      column(
        'Surface',
        rows.map((row) => row.name),
        'left',
      ),
      column(
        'Longer by',
        rows.map((row) => row.longer),
      ),
      column(
        'Cancels at',
        rows.map((row) => row.at),
      ),
      ...(tolerant
        ? [
            column(
              'between',
              rows.map((row) => row.between),
              'left',
            ),
          ]
        : []),
      column(
        'Expect',
        rows.map((row) => row.expect),
      ),
      column(
        'Depth',
        rows.map((row) => row.depth),
      ),
      column(
        'Adds at',
        rows.map((row) => row.adds),
      ),
    ]),
    '',
    wrapText(
      `Longer by: the way by the surface over the straight one. Cancels at: by the distances alone${
        tolerant ? '; between: as far as their tolerances let it lie' : ''
      }. Expect: where it will show, since sound toward a surface starts a little late. Depth: under the peaks beside it, were this the only surface. Adds at: where the same sound makes it louder. Higher ones follow at the same spacing.`,
      WIDTH,
    ),
  ];
}

function dipRows(surface: PredictedSurface, unit: 'cm' | 'in') {
  const name = shorten(cleanText(surface.name), NAME_WIDTH);
  const empty = {
    name,
    longer: formatLength(surface.pathDifferenceM, unit),
    at: '-',
    between: '',
    expect: '-',
    depth: '-',
    adds: '-',
  };
  if (surface.dips.length === 0) return [empty];
  return surface.dips.slice(0, MOST_DIPS).map((dip, i) => ({
    name: i === 0 ? name : '',
    longer: i === 0 ? empty.longer : '',
    at: formatFrequency(dip.frequencyHz),
    between:
      dip.fromHz === undefined || dip.toHz === undefined
        ? ''
        : `${Number(dip.fromHz.toPrecision(3))} to ${Number(dip.toHz.toPrecision(3))}`,
    expect: formatFrequency(dip.expectedHz),
    depth: formatDb(dip.depthDb),
    adds: surface.reinforcementsHz[i] === undefined ? '' : formatFrequency(surface.reinforcementsHz[i]!),
  }));
}

function modeWords({ roomModes }: Prediction): string {
  const axial = roomModes!.filter(({ kind }) => kind === 'axial').slice(0, 8);
  const list = axial.map(({ frequencyHz }) => fixedDecimals(frequencyHz, 0)).join(', ');
  return (
    `The room rings at ${list} Hz and more (between two facing walls; ${roomModes!.length} modes below 250 Hz in all). ` +
    'Peaks and dips there may be the room and not the distance to a surface; where the listener sits decides as much as where the speaker stands.'
  );
}

function fittedLines({ fitted, surfaces, lengthUnit }: Prediction): string[] {
  const length = (m: number) => formatLength(m, lengthUnit);
  const cells = <T>(cell: (f: NonNullable<typeof fitted>[number], k: number) => T) => fitted!.map(cell);
  return [
    'What the measurement says of them',
    ...padTable([
      {
        heading: 'Surface',
        align: 'left' as const,
        cells: cells(({ name }) => shorten(cleanText(name), NAME_WIDTH)),
      },
      {
        heading: 'Said',
        align: 'right' as const,
        cells: cells((_, k) => length(surfaces[k]!.speakerDistanceM)),
      },
      {
        heading: 'Fits at',
        align: 'right' as const,
        cells: cells((f) => `${length(f.speakerDistanceM)} ± ${length(f.deviationM)}`),
      },
      ...fitted![0]!.reflects.map(({ frequencyHz }, i) => ({
        heading: `${i === 0 ? 'Sends back at ' : ''}${formatFrequency(frequencyHz)}`,
        align: 'right' as const,
        cells: cells((f) => `${fixedDecimals(100 * f.reflects[i]!.factor, 0)} %`),
      })),
    ]),
  ];
}
