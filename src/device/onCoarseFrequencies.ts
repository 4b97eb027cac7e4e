import { log, log2 } from '../elementary/logarithm.js';
import { settingFromFilter } from '../filter/qConventions.js';
import { type Bands, filtersFromBands, typeCode } from '../fit/bands.js';
import { boundsOf } from '../fit/bounds.js';
import { LEVEL_RESTRAINT } from '../fit/exactLimits.js';
import { cellGrid } from '../fit/fitGrid.js';
import type { FitProblem } from '../fit/fitProblem.js';
import { fitsSlots } from '../fit/fitsSlots.js';
import { createObjective } from '../fit/objective.js';
import { seededRandom } from '../fit/seededRandom.js';
import { fixedSlots, freeSlots } from './bandSlots.js';
import {
  type DeviceBand,
  type DeviceBounds,
  frequencyRange,
  gainsAround,
  qSettingsAround,
} from './deviceBank.js';
import { allValues } from './deviceValues.js';
import { placeOf } from './frequencySpace.js';
import { searchFrequencies } from './searchFrequencies.js';

/** Frequencies nearer to each other than this are not worth a search of their own. */
const FAR_OCTAVES = 1 / 12;
/** Of the 48 points an octave, so many make one of the search's. */
const CELL_POINTS = 3;
const PENALTY = 200;
const KEPT = 4;

/** Whether the frequencies can be chosen, but lie so far apart that the choice is worth a search of its own. */
export function hasCoarseFrequencies(bounds: DeviceBounds): boolean {
  if (fixedSlots(bounds.device).length > 0) return false;
  const listHz = allValues(frequencyRange(bounds));
  const octaves = log2(listHz.at(-1)! / listHz[0]!);
  return listHz.length > 1 && octaves / (listHz.length - 1) >= FAR_OCTAVES * 0.999;
}

/**
 * Where the device's frequencies lie far apart: banks that do well on them with gains and Qs free, these then rounded;
 * none where the frequencies are fixed or near enough to each other.
 *
 * @param hops of the search
 */
export function onCoarseFrequencies(
  problem: FitProblem,
  bounds: DeviceBounds,
  start: Bands,
  maxBands: number,
  hops: number,
): DeviceBand[][] {
  const { device, limits } = bounds;
  if (!hasCoarseFrequencies(bounds)) return [];
  const listHz = allValues(frequencyRange(bounds));
  const lnF = Float64Array.from(listHz, log);
  const objective = createObjective(cellGrid(problem, CELL_POINTS), maxBands, {
    penalty: PENALTY,
    restraint: 0,
    levelRestraint: LEVEL_RESTRAINT,
    maxLevelLossDb: limits.maxLevelLossDb,
    ...(problem.levelDb === undefined ? {} : { levelDb: problem.levelDb }),
  });
  const slots = freeSlots(device).map((types) => types.map(typeCode));
  const space = {
    objective,
    bounds: boundsOf(limits),
    lnF,
    types: limits.types.map(typeCode),
    maxBands,
    isAllowed: (types: Uint8Array) => fitsSlots(types, slots),
  };
  const values = start.values.map((v, j) => (j % 3 === 0 ? lnF[placeOf(lnF, v)]! : v));
  const found = searchFrequencies(space, { types: start.types, values }, hops, KEPT, seededRandom(1));
  return found.map(({ bands }) =>
    filtersFromBands(bands).map((filter, i) => {
      const frequencyHz = listHz[placeOf(lnF, bands.values[3 * i]!)]!;
      const gainDb = nearestOf(gainsAround(bounds, filter), filter.gainDb);
      const shape = { ...filter, frequencyHz, gainDb };
      const setting = settingFromFilter(shape, device.qConvention, bounds.sampleRateHz) ?? filter.q;
      return {
        type: filter.type,
        frequencyHz,
        gainDb,
        q: nearestOf(qSettingsAround(bounds, shape), setting),
      };
    }),
  );
}

/** The nearest of some values; `x` itself where there are none. */
const nearestOf = (values: readonly number[], x: number) =>
  values.length === 0 ? x : values.reduce((a, b) => (Math.abs(b - x) < Math.abs(a - x) ? b : a));
