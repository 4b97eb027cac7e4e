import { log2 } from '../elementary/logarithm.js';
import type { Filter } from '../filter/filter.js';
import { filtersFromBands, NO_BANDS, typeCode } from './bank/bands.js';
import { boundsOf, boundsReached, hasHangingQ, isWithin } from './bank/bounds.js';
import { roundFilter } from './bank/roundBands.js';
import { EFFORTS } from './effort.js';
import { LEVEL_RESTRAINT } from './finish/exactLimits.js';
import { type Finished, type FinishOptions, finish, RESTRAINT } from './finish/finish.js';
import { sharedLimitsReached } from './finish/sharedLimits.js';
import { levelOf, type Objective, squaredError } from './objective/objective.js';
import { objectiveFor } from './objective/objectiveFor.js';
import { cellGrid, type FitGrid, fullGrid } from './problem/fitGrid.js';
import type { FitProblem, FitResult } from './problem/fitProblem.js';
import { objectiveValue, squaredErrorOf } from './refinement/objectiveValue.js';
import type { Refined } from './refinement/refine.js';
import { MOST_TOO_MANY } from './search/beginnings.js';
import { calmSpace } from './search/calmSpace.js';
import { createDictionary } from './search/dictionary.js';
import { type SearchEffort, searchBanks } from './search/search.js';
import type { SearchSpace } from './search/searchSpace.js';

export interface FitOptions {
  /** Numbers in [0, 1) from a seeded generator; the same sequence gives the same result. */
  readonly random: () => number;
  readonly effort: SearchEffort;
  /** Told of every bank of the search that is better than those before, its limits not yet exact. */
  readonly onBetter?: (filters: readonly Filter[], rmsDb: number) => void;
  /** RMS in dB to which the curve repeats. Bands that win no more than they would on noise of that size are left out. */
  readonly repeatabilityDb?: number;
}

export const NORMAL_EFFORT: SearchEffort = EFFORTS.normal;

const SEARCH_PENALTY = 15;

/**
 * Fits a bank of cookbook filters to a problem: search on a coarse grid, refinement on the full one, pruning, the
 * library's Levenberg–Marquardt as the finish, limits made exact, numbers rounded.
 */
export function fitFilters(problem: FitProblem, options: FitOptions): FitResult {
  const { effort, random, repeatabilityDb } = options;
  const space = wholeSpace(problem, effort);
  if (isGoodAlready(space.objective)) return leaveAlone(space.objective);
  const tell = tellOf(problem, options);
  const plainly = effort.finalists > 1;
  const forFinish = {
    finalists: effort.finalists,
    plainly,
    ...(repeatabilityDb !== undefined && { repeatabilityDb }),
  };
  const steps: Steps = {
    plainly,
    banksIn: (where) => searchBanks(where, effort, random, tell),
    finished: (where, banks, other) => finish(problem, where, banks, { ...forFinish, ...other }),
  };
  const first = hasHangingQ(space.bounds) ? searchHanging(space, steps) : search(space, steps);
  const calm = first.spoilt ? calmSpace(space) : undefined;
  const second = calm && search(calm, steps);
  const { bands, polished, objective } = second && second.error < first.error ? second : first;
  objectiveValue(objective, bands);
  return {
    filters: filtersFromBands(bands).map(roundFilter),
    levelDb: levelOf(objective),
    rmsDb: Math.sqrt(squaredError(objective)),
    stopReason: polished.stopReason,
    iterations: polished.iterations,
    limitsReached: [...boundsReached(bands, space.bounds), ...sharedLimitsReached(problem, bands)],
  };
}

interface Steps {
  /** Whether there is time to look for a plainer bank, and to bring all of two searches to the full grid. */
  readonly plainly: boolean;
  readonly banksIn: (space: SearchSpace) => Refined[];
  readonly finished: (
    space: SearchSpace,
    banks: readonly Refined[],
    other?: Partial<FinishOptions>,
  ) => Finished;
}

function search(space: SearchSpace, { banksIn, finished }: Steps): Finished {
  return finished(space, banksIn(space));
}

/**
 * As `search`, where what Q may be hangs on frequency and gain: first without that, since on the way to a bank that may
 * be lie others that may not.
 */
function searchHanging(space: SearchSpace, steps: Steps): Finished {
  const { qSetting: _, wideBoosts: __, ...withoutIt } = space.bounds;
  const open = { ...space, bounds: withoutIt };
  const found = steps.banksIn(open);
  const free = steps.finished(open, found, { plainly: false });
  if (isWithin(free.bands, space.bounds)) return steps.plainly ? steps.finished(space, found) : free;
  const banks = [...found, ...steps.banksIn(space)];
  return steps.finished(space, banks, { finalists: steps.plainly ? banks.length : 2 });
}

function wholeSpace(problem: FitProblem, effort: SearchEffort): SearchSpace {
  const { limits, levelDb } = problem;
  const bounds = boundsOf(limits);
  const grid = cellGrid(problem, pointsPerCell(problem, effort));
  const types = limits.types.map(typeCode);
  return {
    objective: softly(problem, grid, { extraBands: MOST_TOO_MANY, cutToReach: true }),
    dictionary: createDictionary(grid, bounds, types, levelDb === undefined),
    bounds,
    maxBands: limits.maxBands,
    types,
    ...(limits.slots && { slots: limits.slots.map((slot) => slot.map(typeCode)) }),
  };
}

/** The objective with the search's soft limits. */
function softly(problem: FitProblem, grid: FitGrid, { extraBands = 0, cutToReach = false } = {}): Objective {
  return objectiveFor(problem, grid, problem.limits.maxBands + extraBands, {
    penalty: SEARCH_PENALTY,
    restraint: RESTRAINT,
    levelRestraint: LEVEL_RESTRAINT,
    cutToReach,
  });
}

/** The search sees means over cells; what is told is taken on all points. */
function tellOf(problem: FitProblem, { onBetter }: FitOptions) {
  if (!onBetter) return undefined;
  const fine = softly(problem, fullGrid(problem));
  let record = Number.POSITIVE_INFINITY;
  return ({ bands }: Refined) => {
    const error = squaredErrorOf(fine, bands);
    if (error >= record) return;
    record = error;
    onBetter(filtersFromBands(bands), Math.sqrt(error));
  };
}

/** How many points of the problem's grid make one of the search's. */
function pointsPerCell({ frequencyHz }: FitProblem, { pointsPerOctave }: SearchEffort): number {
  const octaves = log2(frequencyHz.at(-1)! / frequencyHz[0]!);
  return Math.max(1, Math.floor(frequencyHz.length / Math.max(1, octaves * pointsPerOctave)));
}

/** What no measurement repeats to within is not worth a band: 0.15 dB RMS. */
const GOOD_ALREADY_DB = 0.15;

function isGoodAlready(objective: Objective): boolean {
  objectiveValue(objective, NO_BANDS);
  return Math.sqrt(squaredError(objective)) < GOOD_ALREADY_DB;
}

function leaveAlone(objective: Objective): FitResult {
  objectiveValue(objective, NO_BANDS);
  return {
    filters: [],
    levelDb: levelOf(objective),
    rmsDb: Math.sqrt(squaredError(objective)),
    stopReason: 'good without filters',
    iterations: 0,
    limitsReached: [],
  };
}
