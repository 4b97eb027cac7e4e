import { type Bands, HIGH_SHELF, LOW_SHELF, PEAKING } from './bands.js';
import { scaledJacobian } from './bankKernel.js';
import type { Bounds } from './bounds.js';
import type { FitGrid } from './fitGrid.js';

const PEAKING_PER_OCTAVE = 6;
const SHELVES_PER_OCTAVE = 2;
const PEAKING_Q = [0.5, 0.9, 1.6, 2.8, 5, 9];
const SHELF_Q = [0.5, 0.8, 1.5, 3];
/** The shape of a band in dB is nearly proportional to its gain; its slope is taken here, halfway to 4 dB. */
const REFERENCE_GAIN_DB = 2;

interface Shape {
  readonly type: number;
  readonly lnF: number;
  readonly lnQ: number;
  /** Weight × shape per dB of gain at the points from `first` on, where the shape is more than next to nothing. */
  readonly weighted: Float64Array;
  readonly first: number;
  readonly energy: number;
  /** Point of the grid nearest the centre, where the cap is looked up. */
  readonly centre: number;
}

/** A band that would lower the error, were the shapes linear in gain. */
export interface Candidate {
  readonly type: number;
  readonly lnF: number;
  readonly gainDb: number;
  readonly lnQ: number;
  /** Squared error, dB², that it would take away. */
  readonly benefit: number;
}

export type Dictionary = readonly Shape[];

/** Bands of all kinds over the grid, against which the remaining error is held to find where one more helps most. */
export function createDictionary(
  grid: FitGrid,
  bounds: Bounds,
  types: readonly number[],
  levelFree: boolean,
): Dictionary {
  const entries = types.flatMap((type) => {
    const perOctave = type === PEAKING ? PEAKING_PER_OCTAVE : SHELVES_PER_OCTAVE;
    const step = Math.LN2 / perOctave;
    const from = Math.max(bounds.lower[0], Math.log(grid.frequencyHz[0]!));
    const upper = type === PEAKING ? bounds.peakingUpper : bounds.shelfUpper;
    const to = Math.min(upper[0], Math.log(grid.frequencyHz[grid.errorPoints - 1]!));
    const count = Math.max(1, Math.floor((to - from) / step) + 1);
    const qs = (type === PEAKING ? PEAKING_Q : SHELF_Q).map((q) =>
      Math.min(Math.max(Math.log(q), bounds.lower[2]), upper[2]),
    );
    return Array.from({ length: count }, (_, i) => from + (i + 0.5) * ((to - from) / count)).flatMap((lnF) =>
      Array.from(new Set(qs), (lnQ) => ({ type, lnF, lnQ })),
    );
  });
  const m = grid.errorPoints;
  const scratch = { ones: new Float64Array(m).fill(1), jacobian: new Float64Array(3 * m) };
  return entries.map(({ type, lnF, lnQ }) => {
    const values = Float64Array.of(lnF, REFERENCE_GAIN_DB, lnQ);
    return shapeOf(grid, { types: Uint8Array.of(type), values }, levelFree, scratch);
  });
}

interface Scratch {
  readonly ones: Float64Array;
  readonly jacobian: Float64Array;
}

/** What is less than this share of a shape's greatest value counts for nothing in the search for candidates. */
const NEXT_TO_NOTHING = 0.01;

function shapeOf(grid: FitGrid, band: Bands, levelFree: boolean, scratch: Scratch): Shape {
  const m = grid.errorPoints;
  const { ones, jacobian } = scratch;
  scaledJacobian(band, grid.warped, ones, m, grid.sampleRateHz, jacobian);
  const shape = jacobian.subarray(m, 2 * m);
  let mean = 0;
  let square = 0;
  let greatest = 0;
  for (let p = 0; p < m; p++) {
    const s = shape[p]!;
    mean += grid.weight[p]! * s;
    square += grid.weight[p]! * s * s;
    greatest = Math.max(greatest, s);
  }
  let first = 0;
  let end = m;
  while (first < m && shape[first]! < NEXT_TO_NOTHING * greatest) first++;
  while (end > first && shape[end - 1]! < NEXT_TO_NOTHING * greatest) end--;
  const weighted = shape.slice(first, end);
  for (let k = 0; k < weighted.length; k++) weighted[k]! *= grid.weight[first + k]!;
  // Where the level is free the residual's weighted mean is 0, so that taking out the shape's changes no product.
  const energy = levelFree ? square - mean * mean : square;
  const lnF = band.values[0]!;
  return {
    type: band.types[0]!,
    lnF,
    lnQ: band.values[2]!,
    weighted,
    first,
    energy,
    centre: nearestPoint(grid, Math.exp(lnF)),
  };
}

function nearestPoint({ frequencyHz, errorPoints }: FitGrid, hz: number): number {
  let low = 0;
  let high = errorPoints - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (frequencyHz[middle]! <= hz) low = middle;
    else high = middle;
  }
  return hz - frequencyHz[low]! < frequencyHz[high]! - hz ? low : high;
}

/**
 * The most promising bands for what remains, the best first, each at least a third of an octave from the better ones
 * of its type.
 *
 * @param residual remaining error at the grid's error points
 * @param eqDb present sum of the EQ, for the room left under the cap
 * @param taken shelf types that the bank has already; a bank holds at most one of each
 */
export function candidates(
  dictionary: Dictionary,
  grid: FitGrid,
  bounds: Bounds,
  residual: Float64Array,
  eqDb: Float64Array,
  taken: Uint8Array,
  count: number,
): Candidate[] {
  const hasLow = taken.includes(LOW_SHELF);
  const hasHigh = taken.includes(HIGH_SHELF);
  const gains = new Float64Array(dictionary.length);
  const benefits = new Float64Array(dictionary.length);
  for (let k = 0; k < dictionary.length; k++) {
    const shape = dictionary[k]!;
    if ((shape.type === LOW_SHELF && hasLow) || (shape.type === HIGH_SHELF && hasHigh)) continue;
    if (shape.energy < 1e-9) continue;
    const slope = product(shape.weighted, residual, shape.first);
    const room = Math.max(0, grid.capDb[shape.centre]! - eqDb[shape.centre]!);
    const upper = Math.min(bounds.peakingUpper[1], room);
    const gainDb = Math.min(Math.max(-slope / shape.energy, bounds.lower[1]), upper);
    gains[k] = gainDb;
    benefits[k] = -gainDb * (2 * slope + gainDb * shape.energy);
  }
  const chosen: Candidate[] = [];
  while (chosen.length < count) {
    let best = -1;
    for (let k = 0; k < benefits.length; k++) if (benefits[k]! > (best < 0 ? 0 : benefits[best]!)) best = k;
    if (best < 0) break;
    const { type, lnF, lnQ } = dictionary[best]!;
    chosen.push({ type, lnF, gainDb: gains[best]!, lnQ, benefit: benefits[best]! });
    dictionary.forEach((other, k) => {
      if (other.type === type && (type !== PEAKING || Math.abs(other.lnF - lnF) < Math.LN2 / 3)) benefits[k] = 0;
    });
  }
  return chosen;
}

/** Σ a[k] · b[first + k], four sums at a time. */
function product(a: Float64Array, b: Float64Array, first: number): number {
  let s0 = 0;
  let s1 = 0;
  let s2 = 0;
  let s3 = 0;
  let k = 0;
  const last = a.length - 3;
  for (; k < last; k += 4) {
    s0 += a[k]! * b[first + k]!;
    s1 += a[k + 1]! * b[first + k + 1]!;
    s2 += a[k + 2]! * b[first + k + 2]!;
    s3 += a[k + 3]! * b[first + k + 3]!;
  }
  for (; k < a.length; k++) s0 += a[k]! * b[first + k]!;
  return s0 + s1 + (s2 + s3);
}
