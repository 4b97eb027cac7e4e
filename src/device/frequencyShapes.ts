import { exp } from '../elementary/exponential.js';
import { log } from '../elementary/logarithm.js';
import { type Bands, withBand } from '../fit/bands.js';
import { bankValues } from '../fit/bankKernel.js';
import { upperBound } from '../fit/bounds.js';
import { objectiveValue } from '../fit/objective.js';
import { type FrequencySpace, placeOf } from './frequencySpace.js';

/** A band at one of the frequencies, per dB of its gain. */
export interface FrequencyShape {
  readonly type: number;
  readonly lnF: number;
  readonly lnQ: number;
  /** The same for all of one type and frequency. */
  readonly place: number;
  /** Point of the grid nearest the centre, where the cap is looked up. */
  readonly centre: number;
  readonly perDb: Float64Array;
  /** Weighted square of the shape, about its mean where the level is free. */
  readonly energy: number;
}

const QS = [0.5, 0.8, 1.3, 2.1, 3.4, 5.5, 9];
/** The shape of a band in dB is nearly proportional to its gain; it is taken from this one. */
const REFERENCE_DB = 4;

type Searched = Pick<FrequencySpace, 'objective' | 'bounds' | 'lnF' | 'types'>;

export function frequencyShapes(space: Searched): FrequencyShape[] {
  return space.types.flatMap((type) => {
    const most = upperBound(space.bounds, Uint8Array.of(type), 2);
    const lnQs = new Set(QS.map((q) => Math.min(Math.max(log(q), space.bounds.lower[2]), most)));
    return Array.from(space.lnF).flatMap((lnF, i) =>
      Array.from(lnQs, (lnQ) => ({
        ...shapeOf(space, type, lnF, lnQ),
        place: 3 * i + type,
      })).filter(({ energy }) => energy > 1e-9),
    );
  });
}

function shapeOf({ objective }: Searched, type: number, lnF: number, lnQ: number) {
  const { warped, errorPoints, weight, sampleRateHz, frequencyHz } = objective.grid;
  const perDb = new Float64Array(errorPoints);
  const band = Float64Array.of(lnF, REFERENCE_DB, lnQ);
  bankValues(Uint8Array.of(type), band, warped.subarray(0, errorPoints), sampleRateHz, perDb);
  let mean = 0;
  let square = 0;
  for (let p = 0; p < errorPoints; p++) {
    perDb[p]! /= REFERENCE_DB;
    mean += weight[p]! * perDb[p]!;
    square += weight[p]! * perDb[p]! * perDb[p]!;
  }
  const isFree = objective.options.levelDb === undefined;
  const centre = placeOf(frequencyHz.subarray(0, errorPoints), exp(lnF));
  return {
    type,
    lnF,
    lnQ,
    centre,
    perDb,
    energy: square - (isFree ? mean * mean : 0),
  };
}

/** The banks with one band more that promise most, each with another frequency or type for it. */
export function withOneMore(
  { objective, bounds, isAllowed }: FrequencySpace,
  shapes: readonly FrequencyShape[],
  bands: Bands,
  count: number,
): Bands[] {
  objectiveValue(objective, bands);
  const { residual, eqDb, grid } = objective;
  const weighted = residual.map((r, p) => r * grid.weight[p]!);
  const best = new Map<number, { shape: FrequencyShape; gainDb: number; benefit: number }>();
  for (const shape of shapes) {
    const { perDb, energy, centre } = shape;
    let along = 0;
    for (let p = 0; p < weighted.length; p++) along += weighted[p]! * perDb[p]!;
    const room = Math.max(0, grid.capDb[centre]! - eqDb[centre]!);
    const gainDb = Math.min(Math.max(-along / energy, bounds.lower[1]), bounds.peakingUpper[1], room);
    const benefit = -gainDb * (2 * along + gainDb * energy);
    if (benefit > (best.get(shape.place)?.benefit ?? 0)) best.set(shape.place, { shape, gainDb, benefit });
  }
  return [...best.values()]
    .sort((a, b) => b.benefit - a.benefit)
    .filter(({ shape }) => isAllowed(Uint8Array.of(...bands.types, shape.type)))
    .slice(0, count)
    .map(({ shape: { type, lnF, lnQ }, gainDb }) => withBand(bands, type, lnF, gainDb, lnQ));
}
