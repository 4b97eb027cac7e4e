import { nearestPlace } from '../../curve/nearestPlace.js';
import { log, log2 } from '../../elementary/logarithm.js';
import { type Bands, typeCode } from '../../fit/bank/bands.js';
import { boundsOf } from '../../fit/bank/bounds.js';
import { fitsSlots } from '../../fit/bank/fitsSlots.js';
import {
  inOrder,
  type PlainScales,
  plainScales,
  type WeighedBank,
  weighBank,
} from '../../fit/finish/plainScales.js';
import { cellGrid, fitGrid } from '../../fit/problem/fitGrid.js';
import type { FitProblem } from '../../fit/problem/fitProblem.js';
import { seededRandom } from '../../fit/seededRandom.js';
import { fixedSlots, freeSlots } from '../profile/bandSlots.js';
import { allValues } from '../profile/deviceValues.js';
import { bandsOf, type DeviceBand, type DeviceBounds, frequencyRange } from '../stored/deviceBank.js';
import { deviceObjective } from '../stored/deviceObjective.js';
import { type RoundedBank, roundTogether } from './roundTogether.js';
import { searchFrequencies } from './searchFrequencies.js';

/** Frequencies nearer to each other than this are not worth a search of their own. */
const FAR_OCTAVES = 1 / 12;
/** Of the 48 points an octave, so many make one of the search's. */
const CELL_POINTS = 3;
const PENALTY = 200;
/** Banks that are rounded, as many for what they leave as for being plain too, on every other point … */
const ROUNDED = 12;
const FINE_STRIDE = 2;
/** … of which so many are handed back; what they are foretold to come to counts for this much more. */
const KEPT = 4;
const ALL = Number.POSITIVE_INFINITY;
const FORETOLD = 1.1;

/** Whether the frequencies can be chosen, but some lie so far apart that the choice is worth a search of its own. */
export function hasCoarseFrequencies(bounds: DeviceBounds): boolean {
  if (fixedSlots(bounds.device).length > 0) return false;
  const listHz = allValues(frequencyRange(bounds));
  return listHz.some((hz, i) => i > 0 && isFar(listHz[i - 1]!, hz));
}

const isFar = (lowHz: number, highHz: number) => log2(highHz / lowHz) >= FAR_OCTAVES * 0.999;

/** The frequencies without those that lie near the one before. */
function apart(listHz: readonly number[]): number[] {
  const kept: number[] = [];
  for (const hz of listHz) if (kept.length === 0 || isFar(kept.at(-1)!, hz)) kept.push(hz);
  return kept;
}

/**
 * Where the device's frequencies lie far apart: banks that do well on them with gains and Qs free, these then rounded,
 * all chosen by what they leave and by what their bands do against each other; none where the frequencies are fixed or
 * near enough to each other.
 *
 * @param kicks of the search
 */
export function onCoarseFrequencies(
  problem: FitProblem,
  bounds: DeviceBounds,
  start: Bands,
  maxBands: number,
  kicks: number,
): (readonly DeviceBand[])[] {
  if (!hasCoarseFrequencies(bounds)) return [];
  const listHz = apart(allValues(frequencyRange(bounds)));
  const lnF = listHz.map(log);
  const place = (x: number) => nearestPlace(lnF, x);
  const fitBounds = boundsOf(bounds.limits);
  const space = {
    objective: deviceObjective(problem, cellGrid(problem, CELL_POINTS), maxBands, PENALTY),
    bounds: fitBounds,
    lnF: Float64Array.from(lnF),
    types: bounds.limits.types.map(typeCode),
    maxBands,
    isAllowed: fitsSlotsOnce(bounds.device),
  };
  const values = start.values.map((v, j) => (j % 3 === 0 ? lnF[place(v)]! : v));
  const found = searchFrequencies(space, { types: start.types, values }, kicks, ALL, seededRandom(1));
  const { grid } = space.objective;
  const scales = plainScales(found[0]!.value);
  const weighed = found.map(({ bands, value }) => weighBank(grid, bands, value));
  const firm = deviceObjective(problem, fitGrid(problem, FINE_STRIDE), maxBands);
  const rounded = nearestAndPlainest(scales, weighed, ROUNDED)
    .flatMap(({ bands }) => roundTogether(bounds, firm, fitBounds, bands, (x) => listHz[place(x)]!) ?? [])
    .map((one) => ({ ...weighBank(grid, bandsOf(bounds, one.bank)!, promise(one)), bank: one.bank }));
  return nearestAndPlainest(scales, rounded, KEPT).map(({ bank }) => bank);
}

/** The `count` that leave least, and the `count` that cost least in error and in bands against each other together. */
function nearestAndPlainest<T extends WeighedBank>(
  scales: PlainScales,
  banks: readonly T[],
  count: number,
): T[] {
  const nearest = [...banks].sort((a, b) => a.value - b.value).slice(0, count);
  return Array.from(new Set([...nearest, ...inOrder(scales, banks).slice(0, count)]));
}

/** What a bank may come to once its limits are settled. */
const promise = ({ value, foretold }: RoundedBank) => Math.min(value, FORETOLD * foretold);

/** Counts of the three types side by side in one number. */
const PLACE_OF_TYPE = [1, 1000, 1_000_000];

/** Whether a device has a place for each of some types, asked once for all banks with as many of each. */
function fitsSlotsOnce(device: DeviceBounds['device']): (types: readonly number[]) => boolean {
  const slots = freeSlots(device).map((types) => types.map(typeCode));
  const known = new Map<number, boolean>();
  return (types) => {
    const counts = types.reduce((sum, type) => sum + PLACE_OF_TYPE[type]!, 0);
    const before = known.get(counts);
    if (before !== undefined) return before;
    const fits = fitsSlots(types, slots);
    known.set(counts, fits);
    return fits;
  };
}
