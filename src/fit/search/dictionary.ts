import { lowerIndex } from '../../curve/lowerIndex.js';
import { exp } from '../../elementary/exponential.js';
import { log } from '../../elementary/logarithm.js';
import { HIGH_SHELF, LOW_SHELF, PEAKING } from '../bank/bands.js';
import { scaledJacobian } from '../bank/bankKernel.js';
import { type Bounds, endsOf } from '../bank/bounds.js';
import type { FitGrid } from '../problem/fitGrid.js';
import { product } from './weightedProducts.js';

const PEAKING_PER_OCTAVE = 6;
const SHELVES_PER_OCTAVE = 3;
const PEAKING_Q = [0.5, 0.9, 1.6, 2.8, 5, 9];
const SHELF_Q = [0.5, 0.8, 1.5, 3, 6];
/** The shape of a band in dB is nearly proportional to its gain; its slope is taken here, halfway to 4 dB. */
const REFERENCE_GAIN_DB = 2;
/** What is less than this share of a shape's greatest value counts for nothing in the search for candidates. */
const NEXT_TO_NOTHING = 0.01;

/** Natural logarithm of the least ratio of frequencies of two candidates of a kind: a third of an octave, and one. */
const PEAKS_APART = Math.LN2 / 3;
const SHELVES_APART = Math.LN2;

/** A band that would lower the error, were the shapes linear in gain. */
export interface Candidate {
  readonly type: number;
  readonly lnF: number;
  readonly gainDb: number;
  readonly lnQ: number;
  /** Squared error, dB², that it would take away. */
  readonly benefit: number;
}

/**
 * Bands of all kinds over the grid, against which the remaining error is held to find where one more helps most.
 * Shape k per dB of gain lies in `shapes` from `offset[k]` to `offset[k + 1]`, over cells of 1, 2 or 4 points
 * (`coarseness` 0, 1, 2) from the cell `first[k]` on.
 */
export interface Dictionary {
  readonly type: Uint8Array;
  readonly lnF: Float64Array;
  readonly lnQ: Float64Array;
  readonly energy: Float64Array;
  /** Point of the grid nearest the centre, where the cap is looked up. */
  readonly centre: Int32Array;
  readonly coarseness: Uint8Array;
  readonly first: Int32Array;
  readonly offset: Int32Array;
  readonly shapes: Float64Array;
  readonly gains: Float64Array;
  readonly benefits: Float64Array;
}

export function createDictionary(
  grid: FitGrid,
  bounds: Bounds,
  types: readonly number[],
  levelFree: boolean,
): Dictionary {
  const entries = types.flatMap((type) => entriesOf(type, grid, bounds));
  const count = entries.length;
  const m = grid.errorPoints;
  const dictionary = {
    type: Uint8Array.from(entries, ({ type }) => type),
    lnF: Float64Array.from(entries, ({ lnF }) => lnF),
    lnQ: Float64Array.from(entries, ({ lnQ }) => lnQ),
    energy: new Float64Array(count),
    centre: Int32Array.from(entries, ({ lnF }) => nearestPoint(grid, exp(lnF))),
    coarseness: Uint8Array.from(entries, ({ lnQ }) => (lnQ < log(2) ? 2 : lnQ < log(4) ? 1 : 0)),
    first: new Int32Array(count),
    offset: new Int32Array(count + 1),
    gains: new Float64Array(count),
    benefits: new Float64Array(count),
  };
  const shapes = new Float64Array(count * m);
  const ones = new Float64Array(m).fill(1);
  const jacobian = new Float64Array(3 * m);
  const band = { types: new Uint8Array(1), values: new Float64Array(3) };
  for (let k = 0; k < count; k++) {
    band.types[0] = dictionary.type[k]!;
    band.values[0] = dictionary.lnF[k]!;
    band.values[1] = REFERENCE_GAIN_DB;
    band.values[2] = dictionary.lnQ[k]!;
    scaledJacobian(band, grid.warped, ones, m, grid.sampleRateHz, jacobian);
    const shape = jacobian.subarray(m, 2 * m);
    const { from, to, mean, square } = extent(shape, grid.weight);
    // Where the level is free the residual's weighted mean is 0, so that taking out the shape's changes no product.
    dictionary.energy[k] = levelFree ? square - mean * mean : square;
    const size = 1 << dictionary.coarseness[k]!;
    const first = Math.floor(from / size);
    const cells = Math.ceil(to / size) - first;
    const offset = dictionary.offset[k]!;
    dictionary.first[k] = first;
    dictionary.offset[k + 1] = offset + cells;
    for (let p = first * size; p < Math.min(m, (first + cells) * size); p++) {
      shapes[offset + Math.floor(p / size) - first]! += shape[p]! / size;
    }
  }
  return { ...dictionary, shapes: shapes.slice(0, dictionary.offset[count]) };
}

function entriesOf(type: number, grid: FitGrid, bounds: Bounds) {
  const perOctave = type === PEAKING ? PEAKING_PER_OCTAVE : SHELVES_PER_OCTAVE;
  const step = Math.LN2 / perOctave;
  const { lower, upper } = endsOf(bounds, type);
  const from = Math.max(lower[0], log(grid.frequencyHz[0]!));
  const to = Math.min(upper[0], log(grid.frequencyHz[grid.errorPoints - 1]!));
  const count = Math.max(1, Math.floor((to - from) / step) + 1);
  const qs = (type === PEAKING ? PEAKING_Q : SHELF_Q).map((q) =>
    Math.min(Math.max(log(q), lower[2]), upper[2]),
  );
  return Array.from({ length: count }, (_, i) => from + (i + 0.5) * ((to - from) / count)).flatMap((lnF) =>
    Array.from(new Set(qs), (lnQ) => ({ type, lnF, lnQ })),
  );
}

/** Where a shape is more than next to nothing, and its weighted mean and mean square. */
function extent(shape: Float64Array, weight: Float64Array) {
  let mean = 0;
  let square = 0;
  let greatest = 0;
  for (let p = 0; p < shape.length; p++) {
    const s = shape[p]!;
    mean += weight[p]! * s;
    square += weight[p]! * s * s;
    greatest = Math.max(greatest, s);
  }
  let from = 0;
  let to = shape.length;
  while (from < to - 1 && shape[from]! < NEXT_TO_NOTHING * greatest) from++;
  while (to > from + 1 && shape[to - 1]! < NEXT_TO_NOTHING * greatest) to--;
  return { from, to, mean, square };
}

/** Of the error points, the one nearest a frequency in hertz. */
function nearestPoint({ frequencyHz, errorPoints }: FitGrid, hz: number): number {
  const below = lowerIndex(frequencyHz.subarray(0, errorPoints), hz);
  const low = Math.min(Math.max(below, 0), Math.max(0, errorPoints - 2));
  const high = Math.min(low + 1, errorPoints - 1);
  return hz - frequencyHz[low]! < frequencyHz[high]! - hz ? low : high;
}

/**
 * The most promising bands for what remains, the best first, each at some distance from the better ones of its type.
 *
 * @param residual remaining error at the grid's error points
 * @param eqDb present sum of the EQ, for the room left under the cap
 * @param canHave types of which one more can be had; all where absent
 */
export function candidates(
  dictionary: Dictionary,
  grid: FitGrid,
  bounds: Bounds,
  residual: Float64Array,
  eqDb: Float64Array,
  count: number,
  canHave?: readonly number[],
): Candidate[] {
  const { type, lnF, lnQ, gains, benefits } = dictionary;
  const isOpen = [PEAKING, LOW_SHELF, HIGH_SHELF].map((one) => canHave?.includes(one) ?? true);
  weighBenefits(dictionary, grid, bounds, residual, eqDb, isOpen);
  const chosen: Candidate[] = [];
  let best = mostHelpful(dictionary);
  while (best >= 0 && chosen.length < count) {
    chosen.push({
      type: type[best]!,
      lnF: lnF[best]!,
      gainDb: gains[best]!,
      lnQ: lnQ[best]!,
      benefit: benefits[best]!,
    });
    best = mostHelpful(dictionary, best);
  }
  return chosen;
}

/** The band of the greatest benefit, −1 where none helps; those too near the one at `taken` lose theirs. */
function mostHelpful({ type, lnF, benefits }: Dictionary, taken = -1): number {
  const [kind, at] = taken < 0 ? [-1, 0] : [type[taken]!, lnF[taken]!];
  const apart = kind === PEAKING ? PEAKS_APART : SHELVES_APART;
  let best = -1;
  let most = 0;
  for (let k = 0; k < benefits.length; k++) {
    if (type[k] === kind && Math.abs(lnF[k]! - at) < apart) benefits[k] = 0;
    if (benefits[k]! > most) {
      most = benefits[k]!;
      best = k;
    }
  }
  return best;
}

/** Fills `gains` and `benefits`. */
function weighBenefits(
  dictionary: Dictionary,
  grid: FitGrid,
  bounds: Bounds,
  residual: Float64Array,
  eqDb: Float64Array,
  isOpen: readonly boolean[],
): void {
  const { type, energy, centre, coarseness, first, offset, shapes, gains, benefits } = dictionary;
  const single = residual.slice();
  for (let p = 0; p < single.length; p++) single[p]! *= grid.weight[p]!;
  const paired = pairSums(single);
  const pulls = [single, paired, pairSums(paired)] as const;
  const [least, most] = [bounds.peakingLower[1], bounds.peakingUpper[1]];
  for (let k = 0; k < type.length; k++) {
    benefits[k] = 0;
    if (!isOpen[type[k]!] || energy[k]! < 1e-9) continue;
    const pull = pulls[coarseness[k] as 0 | 1 | 2];
    const slope = product(shapes, offset[k]!, pull, first[k]!, offset[k + 1]! - offset[k]!);
    const room = Math.max(0, grid.capDb[centre[k]!]! - eqDb[centre[k]!]!);
    const gainDb = Math.min(Math.max(-slope / energy[k]!, least), Math.min(most, room));
    gains[k] = gainDb;
    benefits[k] = -gainDb * (2 * slope + gainDb * energy[k]!);
  }
}

function pairSums(values: Float64Array): Float64Array {
  const sums = new Float64Array((values.length + 1) >> 1);
  for (let p = 0; p < values.length; p++) sums[p >> 1]! += values[p]!;
  return sums;
}
