import { log2 } from '../elementary/logarithm.js';
import type { Filter } from '../filter/filter.js';
import { bandsFromFilters, NO_BANDS, typeCode } from './bank/bands.js';
import { boundsOf } from './bank/bounds.js';
import { LEVEL_RESTRAINT } from './finish/exactLimits.js';
import { type Objective, squaredError } from './objective/objective.js';
import { objectiveFor } from './objective/objectiveFor.js';
import { cellGrid, type FitGrid, fullGrid } from './problem/fitGrid.js';
import type { FitProblem } from './problem/fitProblem.js';
import { objectiveValue } from './refinement/objectiveValue.js';
import { type Refined, refine } from './refinement/refine.js';
import { refineLocally, withNeighbours } from './refinement/refineLocally.js';
import { MOST_TOO_MANY } from './search/beginnings.js';
import { createDictionary } from './search/dictionary.js';
import { drawMove, dropCheapest } from './search/moves.js';
import { searchBanks } from './search/search.js';
import {
  byValue,
  insert,
  isAllowed,
  LOCAL,
  propose,
  type SearchSpace,
  THOROUGH,
} from './search/searchSpace.js';

/** What remains with the best bank of so many bands that one warm-started sweep finds. */
export interface ErrorAtBands {
  readonly bands: number;
  readonly rmsDb: number;
}

export interface ErrorCurve {
  /** From no band to the most that were tried, never rising. */
  readonly points: readonly ErrorAtBands[];
  /** From this number on each further band takes away less than a twentieth of what there is without any. */
  readonly kneeBands: number;
}

const POINTS_PER_OCTAVE = 12;
const PENALTY = 200;
/** The sweep turns round so many bands above the most asked for, so that these are reached from both sides. */
const BEYOND = 2;
/** Up to so many bands each number is held against a short search from nothing, which costs little there. */
const ANEW_UP_TO = 4;
const AT_THE_END = { maxIterations: 3, tolerance: 1e-3 };
const ANEW = { starts: 2, hopsPerBand: 1, finalists: 1 };

export interface ErrorCurveOptions {
  readonly random: () => number;
  /** The most bands to try. */
  readonly maxBands: number;
  /** Moves tried at each number on the way up. */
  readonly movesPerBand?: number;
  /** A bank whose limits are exact: the sweep goes on from it where it is better than its own, and the curve through it. */
  readonly known?: { readonly filters: readonly Filter[]; readonly rmsDb: number };
  /** What the error stated is taken on, where that is not all that the search heeds. */
  readonly counted?: FitProblem;
}

/**
 * The remaining error against the number of bands, from one sweep: a bank grows by a band at a time, with a few moves
 * after each; on the way back the cheapest band is dropped again and again, and of the two the better counts. Growth
 * by one may hang on a bank that no longer has its bands where more of them belong, which the way back mends.
 */
export function errorCurve(problem: FitProblem, options: ErrorCurveOptions): ErrorCurve {
  const { random, maxBands, movesPerBand = 6, known, counted = problem } = options;
  const top = maxBands + BEYOND;
  const at = spaceFor(problem, top);
  const none = refine(at(0).objective, NO_BANDS, at(0).bounds, THOROUGH);
  const best: Refined[] = [none];
  for (let bands = 1; bands <= top; bands++) {
    const space = at(bands);
    let current = withOneMore(space, best[bands - 1]!);
    for (let move = 0; move < movesPerBand && current.bands.types.length === bands; move++) {
      const tried = drawMove(random)(space, current, random);
      if (isAllowed(space, tried.bands) && tried.value < current.value) current = tried;
    }
    const others: Refined[] = [];
    if (known?.filters.length === bands)
      others.push(refine(space.objective, bandsFromFilters(known.filters), space.bounds, THOROUGH));
    if (bands <= ANEW_UP_TO)
      others.push(searchBanks(space, { ...ANEW, pointsPerOctave: POINTS_PER_OCTAVE }, random)[0]!);
    best.push([current, ...others].sort(byValue)[0]!);
  }
  for (let bands = top - 1; bands >= 1; bands--) {
    const fewer = withOneLess(at(bands), best[bands + 1]!);
    if (fewer && fewer.value < best[bands]!.value) best[bands] = fewer;
  }
  // The sweep's grid knows nothing of what varies within its cells.
  const fine = objectiveOf(problem, fullGrid(problem), top);
  const stated = objectiveOf(counted, fullGrid(counted), top);
  let least = Number.POSITIVE_INFINITY;
  const points = best.slice(0, maxBands + 1).map((bank, bands) => {
    const settled = refine(fine, bank.bands, at(0).bounds, AT_THE_END);
    objectiveValue(stated, settled.bands);
    least = Math.min(least, Math.sqrt(squaredError(stated)));
    return { bands, rmsDb: known ? throughKnown(least, bands, known) : least };
  });
  return { points, kneeBands: kneeOf(points) };
}

/** Fewer bands than the known bank's leave no less than it, and no more bands leave more. */
function throughKnown(
  rmsDb: number,
  bands: number,
  known: { readonly filters: readonly Filter[]; readonly rmsDb: number },
): number {
  if (bands === known.filters.length) return known.rmsDb;
  return bands < known.filters.length ? Math.max(rmsDb, known.rmsDb) : Math.min(rmsDb, known.rmsDb);
}

/** The search space for each number of bands; they share all but the number. */
function spaceFor(problem: FitProblem, maxBands: number): (bands: number) => SearchSpace {
  const bounds = boundsOf(problem.limits);
  const octaves = log2(problem.frequencyHz.at(-1)! / problem.frequencyHz[0]!);
  const perCell = Math.floor(problem.frequencyHz.length / Math.max(1, octaves * POINTS_PER_OCTAVE));
  const objective = objectiveOf(problem, cellGrid(problem, Math.max(1, perCell)), maxBands + MOST_TOO_MANY);
  const types = problem.limits.types.map(typeCode);
  const dictionary = createDictionary(objective.grid, bounds, types, problem.levelDb === undefined);
  // With slots in plenty, of the kinds there are: the curve tells of numbers, not of one device's layout.
  return (bands) => ({ objective, dictionary, bounds, maxBands: bands, types });
}

function objectiveOf(problem: FitProblem, grid: FitGrid, maxBands: number): Objective {
  return objectiveFor(problem, grid, maxBands, {
    penalty: PENALTY,
    restraint: 0,
    levelRestraint: LEVEL_RESTRAINT / 100,
  });
}

function withOneMore(space: SearchSpace, start: Refined): Refined {
  const settled = propose(space, start.bands, 5).map((candidate) => {
    const bands = insert(start.bands, candidate);
    const moving = withNeighbours(bands, bands.types.length - 1, 1);
    return refineLocally(space.objective, bands, moving, space.bounds, LOCAL);
  });
  const best = settled.sort(byValue)[0];
  if (!best || best.value >= start.value) return start;
  return refine(space.objective, best.bands, space.bounds, THOROUGH);
}

function withOneLess(space: SearchSpace, { bands }: Refined): Refined | undefined {
  if (bands.types.length === 0) return undefined;
  return refine(space.objective, dropCheapest(space, bands).bands, space.bounds, THOROUGH);
}

/** A band that takes away less than this share of what there is without any is not worth having for the curve's sake. */
const WORTH_A_BAND = 0.05;

/** The least number from which on no further bands bring as much apiece; 0 where none ever do. */
function kneeOf(points: readonly ErrorAtBands[]): number {
  const worth = WORTH_A_BAND * points[0]!.rmsDb;
  const isKnee = ({ bands, rmsDb }: ErrorAtBands) =>
    points.slice(bands + 1).every((more) => rmsDb - more.rmsDb <= worth * (more.bands - bands));
  return points.find(isKnee)!.bands;
}
