import { advisedStepM } from '../../diagnosis/verdict/placementAdvice.js';
import type { PredictedPlacement, Prediction } from '../../schema/prediction.js';
import { formatFrequency } from '../../units/formatFrequency.js';
import { formatLength } from '../../units/formatLength.js';
import { cleanText } from '../words/cleanText.js';
import { fixedDecimals } from '../words/fixedDecimals.js';
import { padTable, type TextColumn } from '../words/padTable.js';
import { shorten } from '../words/shorten.js';
import { wrapText } from '../words/wrapText.js';

const MOST_ROWS = 24;

/** The table of places, where the speaker stands now among them. */
export function variedLines(prediction: Prediction, width: number): string[] {
  const { now, varied, variedSurfaces, lengthUnit, microphone } = prediction;
  const names = variedSurfaces!.map((name) => `"${cleanText(name)}"`);
  const shown = (p: PredictedPlacement) =>
    p.surfaces.map((s) => formatLength(s.speakerDistanceM, lengthUnit)).join(' ');
  const all = eachOnce([now!, ...varied!], shown).sort(byDistance);
  const { rows, every } = thinned(all, now!);
  const intro =
    `The speaker moved from ${names.join(' and ')}, the microphone ` +
    `${microphone === 'along' ? 'making the same move' : 'staying where it is'}` +
    `${every > 1 ? ` (every ${every}th place; all are in the files of --out and in --json)` : ''}:`;
  const measured = rows.some(({ remainingErrorRmsDb }) => remainingErrorRmsDb !== undefined);
  const single = names.length === 1;
  const columns: TextColumn[] = [
    ...names.map((name, k) =>
      column(single ? 'From there' : shorten(name, 15), rows, (p) =>
        formatLength(p.surfaces[k]!.speakerDistanceM, lengthUnit),
      ),
    ),
    ...(single
      ? [
          ...dipColumns(rows, 0, '1st dip'),
          ...dipColumns(rows, 1, '2nd dip'),
          column('3rd dip', rows, (p) => dipHz(p, 0, 2)),
        ]
      : names.flatMap((_, k) => dipColumns(rows, 0, 'dip', k).slice(0, names.length > 2 ? 1 : 2))),
    ...(measured
      ? [
          column('Error', rows, (p) => decibels(p.errorRmsDb)),
          column('With EQ', rows, (p) => decibels(p.remainingErrorRmsDb)),
        ]
      : []),
    { heading: '', align: 'left', cells: rows.map((p) => (p === now ? '<- now' : '')) },
  ];
  return [
    wrapText(intro, width),
    ...padTable(columns),
    '',
    ...(measured ? measuredLines(prediction, width) : [wrapText(WITHOUT_MEASUREMENT, width)]),
  ];
}

/** The least gain in dB worth carrying a speaker for. */
const WORTH_DB = 0.2;

const WITHOUT_MEASUREMENT =
  'These are the distances alone, as in the advice of fit and diagnose: they say where dips go, not which place is best on the whole. With a measurement (nullwise predict measurement.txt --setup …) each place gets a forecast of the curve and of what a new fit would leave.';

function measuredLines(prediction: Prediction, width: number): string[] {
  const { best, now, variedSurfaces, lengthUnit, range } = prediction;
  const where = (place: PredictedPlacement) =>
    place.surfaces
      .map(
        (s, k) => `${formatLength(s.speakerDistanceM, lengthUnit)} from "${cleanText(variedSurfaces![k]!)}"`,
      )
      .join(' and ');
  const span = range ? ` from ${formatFrequency(range.fromHz)} to ${formatFrequency(range.toHz)}` : '';
  const first = best?.[0];
  const gain = first?.gainDb ?? 0;
  const verdict =
    first && gain >= WORTH_DB
      ? `Best: ${where(first)}. A new fit would leave ${decibels(first.remainingErrorRmsDb)} there against ${decibels(now!.remainingErrorRmsDb)} where it stands now: ${fixedDecimals(gain, 1)} dB better.`
      : 'Nowhere in this span would a new fit leave clearly less than where the speaker stands now.';
  const others = (best ?? []).slice(1).filter(({ gainDb }) => (gainDb ?? 0) >= WORTH_DB);
  return [
    wrapText(
      `Error: RMS about the target${span}, as it would be measured. With EQ: what a new fit would leave of it, dips by cancellation not boosted but counted.`,
      width,
    ),
    '',
    wrapText(verdict, width),
    ...others.map((place) =>
      wrapText(
        `Also good: ${where(place)}, ${decibels(place.remainingErrorRmsDb)} left (${fixedDecimals(place.gainDb ?? 0, 1)} dB better).`,
        width,
      ),
    ),
    ...advisedLines(prediction, width),
  ];
}

/** How the forecast goes with what findings advise, which rests on the distances alone. */
function advisedLines(
  { advised, best, now, varied, variedSurfaces, lengthUnit }: Prediction,
  width: number,
): string[] {
  const places = (advised ?? []).filter(({ gainDb }) => gainDb !== undefined);
  if (places.length === 0) return [];
  const bestDb = best?.[0]?.remainingErrorRmsDb ?? Number.POSITIVE_INFINITY;
  const sentences = places.map((place) => {
    const k = place.surfaces.findIndex((s, i) => s.speakerDistanceM !== now!.surfaces[i]!.speakerDistanceM);
    const where = `${formatLength(place.surfaces[k]!.speakerDistanceM, lengthUnit)} from "${cleanText(variedSurfaces![k]!)}"`;
    const beyond = varied!.every(
      (p) => p.surfaces[k]!.speakerDistanceM < place.surfaces[k]!.speakerDistanceM,
    );
    const behindDb = place.remainingErrorRmsDb! - bestDb;
    const beside =
      (best?.[0]?.gainDb ?? 0) < WORTH_DB
        ? ''
        : behindDb < WORTH_DB
          ? ', as good as the best place within what a forecast can tell'
          : `, ${fixedDecimals(behindDb, 1)} dB more than at the best place`;
    return `At ${where}${beyond ? ' (beyond the span above)' : ''} a new fit would leave ${decibels(place.remainingErrorRmsDb)} (${thanNow(place.gainDb!)})${beside}.`;
  });
  return [
    '',
    wrapText(
      'Where fit or diagnose advise to move away from a surface, they say by the distances alone where one dip goes, and take a step of ' +
        `${formatLength(advisedStepM(lengthUnit), lengthUnit)} for their example. This is about the whole curve, so it may name another place, nearer ones too: go by this. ${sentences.join(' ')}`,
      width,
    ),
  ];
}

function thanNow(gainDb: number): string {
  if (Math.abs(gainDb) < WORTH_DB) return 'about as where it stands now';
  return `${fixedDecimals(Math.abs(gainDb), 1)} dB ${gainDb > 0 ? 'better' : 'worse'} than where it stands now`;
}

/** Without those that look the same in the table as an earlier one. */
function eachOnce<T>(items: readonly T[], name: (item: T) => string): T[] {
  return [...new Map(items.toReversed().map((item) => [name(item), item])).values()];
}

function dipColumns(
  rows: readonly PredictedPlacement[],
  n: number,
  heading: string,
  surface = 0,
): TextColumn[] {
  return [
    column(heading, rows, (p) => dipHz(p, surface, n)),
    column('deep', rows, (p) => decibels(p.surfaces[surface]!.dips[n]?.depthDb)),
  ];
}

function dipHz(placement: PredictedPlacement, surface: number, n: number): string {
  const dip = placement.surfaces[surface]!.dips[n];
  return dip ? formatFrequency(dip.expectedHz) : '-';
}

const decibels = (db: number | undefined) => (db === undefined ? '-' : `${fixedDecimals(db, 1)} dB`);

function column(
  heading: string,
  rows: readonly PredictedPlacement[],
  cell: (placement: PredictedPlacement) => string,
): TextColumn {
  return { heading, align: 'right', cells: rows.map(cell) };
}

function byDistance(a: PredictedPlacement, b: PredictedPlacement): number {
  for (let k = 0; k < a.surfaces.length; k++) {
    const apart = a.surfaces[k]!.speakerDistanceM - b.surfaces[k]!.speakerDistanceM;
    if (apart !== 0) return apart;
  }
  return 0;
}

function thinned(all: readonly PredictedPlacement[], now: PredictedPlacement) {
  const every = Math.ceil(all.length / MOST_ROWS);
  return { every, rows: all.filter((p, i) => i % every === 0 || i === all.length - 1 || p === now) };
}
