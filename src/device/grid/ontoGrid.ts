import { type Bands, filtersFromBands } from '../../fit/bank/bands.js';
import { fullGrid } from '../../fit/problem/fitGrid.js';
import type { FitProblem } from '../../fit/problem/fitProblem.js';
import { objectiveValue } from '../../fit/refinement/objectiveValue.js';
import { isContinuous, isWithoutSteps } from '../profile/deviceValues.js';
import { bandsOf, type DeviceBand, type DeviceBounds } from '../stored/deviceBank.js';
import { deviceObjective } from '../stored/deviceObjective.js';
import { realError } from '../stored/realError.js';
import { hasCoarseFrequencies, onCoarseFrequencies } from './onCoarseFrequencies.js';
import { searchGrid } from './searchGrid.js';
import { settledOnGrid } from './settleOnGrid.js';

/** Of the search over frequencies that lie far apart … */
const HOPS = 700;
/** … and of the one on the grid itself, where each costs more; fewer for more than ten bands. */
const GRID_HOPS = 6;
/** … and where there are no steps but a convention for Q that small gains have no value in: there whole bands have to change. */
const GRID_HOPS_WITHOUT_STEPS = 40;
const FULL_HOPS_BANDS = 10;

/**
 * Brings a bank to values of the device: to near ones, and where that costs something, to others that are searched for.
 * Limits are not exact yet.
 *
 * @param hops of the search for other frequencies
 */
export function ontoGrid(
  problem: FitProblem,
  bounds: DeviceBounds,
  start: Bands,
  maxBands: number,
  hops = HOPS,
): readonly DeviceBand[] {
  if (start.types.length === 0) return [];
  const near = settledOnGrid(problem, bounds, start);
  const isFree = isWithoutSteps(bounds.device);
  const nearest = isFree ? near : searchGrid(problem, bounds, [near], maxBands, { hops: 0, inPairs: false });
  const unrounded = realError(problem, filtersFromBands(start)).rmsDb;
  const rounded = realError(problem, filtersFromBands(bandsOf(bounds, nearest)!)).rmsDb;
  const isGood = rounded <= Math.max(unrounded * GOOD_SHARE, unrounded + GOOD_DB);
  if (isGood) return isFree ? near : refinedBetween(problem, bounds, nearest);
  const elsewhere = onCoarseFrequencies(problem, bounds, start, maxBands, hops);
  const few = Math.ceil(
    Math.min(hops, isFree ? GRID_HOPS_WITHOUT_STEPS : GRID_HOPS) * Math.min(1, FULL_HOPS_BANDS / maxBands),
  );
  const found = searchGrid(problem, bounds, [nearest, ...elsewhere], maxBands, {
    hops: elsewhere.length > 0 ? 0 : few,
    inPairs: true,
  });
  return refinedBetween(problem, bounds, found);
}

/** Rounding that costs no more than this share, or this many dB, is not worth a search. */
const GOOD_SHARE = 1.01;
const GOOD_DB = 0.01;

/** What a device takes as it comes, such as gains without steps, is refined once more beside what has steps. */
function refinedBetween(
  problem: FitProblem,
  bounds: DeviceBounds,
  bank: readonly DeviceBand[],
): readonly DeviceBand[] {
  const { frequencyHz, gainDb, q } = bounds.device;
  const fixedOnly = bounds.device.bands.every(({ atHz }) => atHz !== undefined);
  const isStepped = !isContinuous(gainDb) && !isContinuous(q) && (fixedOnly || !isContinuous(frequencyHz));
  if (isStepped || bank.length === 0) return bank;
  const value = strivenFor(problem, bounds, bank.length);
  const refined = settledOnGrid(problem, bounds, bandsOf(bounds, bank)!).filter(({ gainDb }) => gainDb !== 0);
  return value(refined) < value(bank) ? refined : bank;
}

/** Searches from a bank on the grid under limits that have been drawn in. */
export function ontoGridAgain(
  problem: FitProblem,
  bounds: DeviceBounds,
  bank: readonly DeviceBand[],
  maxBands: number,
): readonly DeviceBand[] {
  if (isWithoutSteps(bounds.device)) {
    const near = settledOnGrid(problem, bounds, bandsOf(bounds, bank)!);
    const value = strivenFor(problem, bounds, bank.length);
    // Numbers that the device's convention does not have may have come out.
    if (value(near) <= value(bank)) return near;
  }
  return searchGrid(problem, bounds, [bank], maxBands, { hops: 0, inPairs: hasCoarseFrequencies(bounds) });
}

/** What rounding strives to make small, of banks of up to `maxBands`. */
function strivenFor(problem: FitProblem, bounds: DeviceBounds, maxBands: number) {
  const objective = deviceObjective(problem, fullGrid(problem), maxBands);
  return (bank: readonly DeviceBand[]) => objectiveValue(objective, bandsOf(bounds, bank)!);
}
