import { HIGH_SHELF, LOW_SHELF, PEAKING } from './bands.js';
import { bankValues } from './bankKernel.js';
import type { Bounds } from './bounds.js';
import type { FitGrid } from './fitGrid.js';

const PEAKING_PER_OCTAVE = 6;
const SHELVES_PER_OCTAVE = 3;
const PEAKING_Q = [0.5, 0.8, 1.3, 2.1, 3.4, 5.5, 9];
const SHELF_Q = [0.5, 0.71, 1, 2, 4];
/** The shape of a band in dB is nearly proportional to its gain; it is taken at this one. */
const REFERENCE_GAIN_DB = 4;

interface Shape {
  readonly type: number;
  readonly lnF: number;
  readonly lnQ: number;
  /** Weight × shape per dB of gain, its weighted mean taken out where the level is free. */
  readonly weighted: Float64Array;
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
  return entries.map(({ type, lnF, lnQ }) => shapeOf(grid, type, lnF, lnQ, levelFree));
}

function shapeOf(grid: FitGrid, type: number, lnF: number, lnQ: number, levelFree: boolean): Shape {
  const m = grid.errorPoints;
  const shape = new Float64Array(m);
  const values = Float64Array.of(lnF, REFERENCE_GAIN_DB, lnQ);
  bankValues(Uint8Array.of(type), values, grid.warped.subarray(0, m), grid.sampleRateHz, shape);
  let mean = 0;
  for (let p = 0; p < m; p++) {
    shape[p]! /= REFERENCE_GAIN_DB;
    mean += grid.weight[p]! * shape[p]!;
  }
  let energy = 0;
  for (let p = 0; p < m; p++) {
    const centred = levelFree ? shape[p]! - mean : shape[p]!;
    energy += grid.weight[p]! * centred * centred;
    shape[p] = grid.weight[p]! * centred;
  }
  return { type, lnF, lnQ, weighted: shape, energy, centre: nearestPoint(grid, Math.exp(lnF)) };
}

function nearestPoint({ frequencyHz, errorPoints }: FitGrid, hz: number): number {
  let best = 0;
  for (let p = 1; p < errorPoints; p++) {
    if (Math.abs(frequencyHz[p]! - hz) < Math.abs(frequencyHz[best]! - hz)) best = p;
  }
  return best;
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
  const all: Candidate[] = [];
  for (const shape of dictionary) {
    if ((shape.type === LOW_SHELF && hasLow) || (shape.type === HIGH_SHELF && hasHigh)) continue;
    if (shape.energy < 1e-9) continue;
    let slope = 0;
    for (let p = 0; p < residual.length; p++) slope += shape.weighted[p]! * residual[p]!;
    const room = Math.max(0, grid.capDb[shape.centre]! - eqDb[shape.centre]!);
    const gainDb = Math.min(
      Math.max(-slope / shape.energy, bounds.lower[1]),
      Math.min(bounds.peakingUpper[1], room),
    );
    const benefit = -gainDb * (2 * slope + gainDb * shape.energy);
    if (benefit > 0) all.push({ type: shape.type, lnF: shape.lnF, gainDb, lnQ: shape.lnQ, benefit });
  }
  all.sort((a, b) => b.benefit - a.benefit);
  const chosen: Candidate[] = [];
  for (const candidate of all) {
    if (chosen.length === count) break;
    const crowded = chosen.some(
      (other) =>
        other.type === candidate.type &&
        (candidate.type !== PEAKING || Math.abs(other.lnF - candidate.lnF) < Math.LN2 / 3),
    );
    if (!crowded) chosen.push(candidate);
  }
  return chosen;
}
