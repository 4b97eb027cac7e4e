import type { Curve, FrequencyRange } from '../curve/curve.js';
import { interpolateLevel } from '../curve/interpolateLevel.js';
import { logGrid } from '../curve/logGrid.js';
import { pointsPerOctave } from '../curve/pointsPerOctave.js';
import { resampleToGrid } from '../curve/resampleToGrid.js';
import type { Filter } from '../filter/filter.js';
import { InputError } from '../inputError.js';
import type { KeptSound } from '../measurement/measurement.js';
import { addedDb, type Sampling } from './cellResponse.js';
import { type SmoothedAlike, type Smoothings, smoothedAlike } from './smoothedAlike.js';
import { ringsPast, throughGate } from './throughGate.js';

/** Coarser than the design's grid: enough for a band of Q 10, and the noise of neighbours averages out. */
const POINTS_PER_OCTAVE = 24;
const FEWEST_POINTS = 24;
/** From so many points an octave on more of a level is the mean of its cell than what lies between two points. */
const CELLS_FROM = 1.5 * POINTS_PER_OCTAVE;
/** Bands may stand half an octave outside the range, and their flanks tell of them. */
const BEYOND_RANGE = Math.SQRT2;
/** What is less is no matter beside noise. */
const LEAST_RINGING_DB = 0.1;
/** What another channel's curve may be short of the range at either end: a third of an octave tells little. */
const SHORT_OF_RANGE = 1.26;

/** A measurement before and one after the filters were entered, on one grid. */
export interface Comparison extends Sampling {
  readonly beforeDb: Float64Array;
  readonly afterDb: Float64Array;
  /** What the filters were to add. */
  readonly promisedDb: Float64Array;
  readonly range: FrequencyRange;
  /** Where one of the two was smoothed and the other not, or over less. */
  readonly alike?: SmoothedAlike & {
    readonly smoothings: Smoothings;
    /** Without the filters, as little smoothed as either shows it. */
    readonly fineDb: Float64Array;
  };
}

export interface PromisedBank {
  readonly filters: readonly Filter[];
  readonly sampleRateHz: number;
  readonly range: FrequencyRange;
  /** What rounded coefficients add to the filters' own response. */
  readonly rounding?: Curve | undefined;
}

/** How the measurement with the filters on was made. */
export interface Seen {
  /** Below it the curve is only what the gate's own shape makes of it. */
  readonly resolvedFromHz?: number;
  readonly kept?: KeptSound;
  /** What its file says of itself. */
  readonly comments?: readonly string[];
}

/**
 * @param other the other channel's curve: no further out of the range than it reaches is anything compared
 * @param smoothings what each was smoothed over, where that is not the same: then both are compared smoothed alike
 * @throws InputError where the curves and the design's range have less than an octave in common
 */
export function compare(
  bank: PromisedBank,
  before: Curve,
  after: Curve,
  other?: Curve,
  seen: Seen = {},
  smoothings?: Smoothings,
): Comparison {
  const { range, sampleRateHz } = bank;
  const ends = [before, after].map(({ frequencyHz: f }) => [f[0]!, f[f.length - 1]!] as const);
  const otherFromHz = Math.min(range.fromHz * SHORT_OF_RANGE, other?.frequencyHz[0] ?? 0);
  const otherToHz = Math.max(range.toHz / SHORT_OF_RANGE, other?.frequencyHz.at(-1) ?? sampleRateHz / 2);
  const fromHz = Math.max(
    range.fromHz / BEYOND_RANGE,
    otherFromHz,
    seen.resolvedFromHz ?? 0,
    ...ends.map(([from]) => from),
  );
  const toHz = Math.min(range.toHz * BEYOND_RANGE, sampleRateHz / 2, otherToHz, ...ends.map(([, to]) => to));
  const grid = fromHz < toHz ? logGrid(fromHz, toHz, POINTS_PER_OCTAVE) : new Float64Array(0);
  if (grid.length < FEWEST_POINTS) {
    const spans = ends.map(([from, to]) => `${figures(from)} to ${figures(to)} Hz`);
    throw new InputError(
      `the measurements and the design share less than an octave: before ${spans[0]}, after ${spans[1]}, ` +
        `the design's range ${figures(range.fromHz)} to ${figures(range.toHz)} Hz; expected an octave in common`,
    );
  }
  const inCells = pointsPerOctave(after.frequencyHz, fromHz, toHz) >= CELLS_FROM;
  const gate = gateThatCuts(bank, before, grid, seen);
  const plain: Sampling = { frequencyHz: grid, inCells, ...(gate && { gate }) };
  const comparisonOf = (sampling: Sampling, one: Curve, two: Curve): Comparison => ({
    ...sampling,
    beforeDb: resampleToGrid(one, grid).levelDb,
    afterDb: resampleToGrid(two, grid).levelDb,
    promisedDb: withRounding(addedDb(bank.filters, sampleRateHz, sampling), grid, bank.rounding),
    range,
  });
  const asTheyCame = comparisonOf(plain, before, after);
  if (!smoothings) return asTheyCame;
  const alike = smoothedAlike(before, after, smoothings);
  const { beforeDb, afterDb, promisedDb } = asTheyCame;
  const fineDb =
    smoothings.before > smoothings.after ? afterDb.map((db, i) => db - promisedDb[i]!) : beforeDb;
  const sampling = { ...plain, smoothing: alike.throughFor(grid) };
  return { ...comparisonOf(sampling, alike.before, alike.after), alike: { ...alike, smoothings, fineDb } };
}

export function withRounding(
  addedDb: Float64Array,
  frequencyHz: Float64Array,
  rounding: Curve | undefined,
): Float64Array {
  if (!rounding) return addedDb;
  return addedDb.map((db, i) => db + interpolateLevel(rounding, frequencyHz[i]!));
}

/** The gate, where it takes something off what the filters add. */
function gateThatCuts(bank: PromisedBank, before: Curve, grid: Float64Array, { kept }: Seen) {
  const { filters, sampleRateHz } = bank;
  if (!kept || !filters.some((filter) => ringsPast(filter, kept.afterS))) return undefined;
  const gate = throughGate(before, kept, bank);
  const correctionDb = gate.correctionDb(filters, sampleRateHz, grid);
  return correctionDb.some((db) => Math.abs(db) > LEAST_RINGING_DB) ? gate : undefined;
}

const figures = (hz: number): number => Number(hz.toPrecision(4));
