import { log2 } from '../elementary/logarithm.js';
import type { Filter } from '../filter/filter.js';
import { type Bands, filtersFromBands, NO_BANDS, typeCode } from './bands.js';
import { boundsOf, boundsReached, isWithin } from './bounds.js';
import { calmSpace } from './calmSpace.js';
import { createDictionary } from './dictionary.js';
import { EFFORTS } from './effort.js';
import { enforceLimits, LEVEL_RESTRAINT, roundIntoLimits } from './exactLimits.js';
import { measureExcess } from './excess.js';
import { cellGrid, type FitGrid, fitGrid } from './fitGrid.js';
import type { FitProblem, FitResult } from './fitProblem.js';
import { levelOf, type Objective, objectiveValue, squaredError } from './objective.js';
import { objectiveFor } from './objectiveFor.js';
import { polish } from './polish.js';
import { type PruneAllowance, prune } from './prune.js';
import { type Refined, refine } from './refine.js';
import { roundFilter } from './roundBands.js';
import { type SearchEffort, searchBanks } from './search.js';
import { byValue, type SearchSpace } from './searchSpace.js';

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
/** Stiffer ones let the finish creep: its steps meet the kink of one limit after the other. */
const FINISH_PENALTY = 200;
/** Bands more than allowed that the search may hold for a while. */
const EXTRA_BANDS = 4;
/** Prefers the smaller EQ among equal errors; costs less than a thousandth of any error worth mending. */
const RESTRAINT = 1e-5;
/**
 * Bands are dropped while the RMS error stays within 0.2 % or 0.001 dB of the full bank's, or below 0.03 dB. Loudness
 * hardly counts there:
 * two shelves that only add up to a constant gain are two bands for nothing, since the input gain takes it back.
 */
export const PRUNE_ALLOWANCE = { share: 0.002, db: 0.001, goodEnoughDb: 0.03 };
/** Banks whose errors differ by less are equals; the one that boosts least is taken. */
const EQUAL_SHARE = 1.003;

/**
 * Fits a bank of cookbook filters to a problem: search on a coarse grid, refinement on the full one, pruning, the
 * library's Levenberg–Marquardt as the finish, limits made exact, numbers rounded.
 */
export function fitFilters(problem: FitProblem, options: FitOptions): FitResult {
  const bounds = boundsOf(problem.limits);
  const coarse = objectiveOf(
    problem,
    cellGrid(problem, pointsPerCell(problem, options.effort)),
    SEARCH_PENALTY,
    RESTRAINT,
    { extraBands: EXTRA_BANDS, cutToReach: true },
  );
  const types = problem.limits.types.map(typeCode);
  const space = {
    objective: coarse,
    dictionary: createDictionary(coarse.grid, bounds, types, problem.levelDb === undefined),
    bounds,
    maxBands: problem.limits.maxBands,
    types,
    ...(problem.limits.slots && { slots: problem.limits.slots.map((slot) => slot.map(typeCode)) }),
  };
  if (isGoodAlready(coarse)) return leaveAlone(coarse);
  const tell = tellOf(problem, options);
  const banksIn = (where: SearchSpace) => searchBanks(where, options.effort, options.random, tell);
  const search = (where: SearchSpace) => finish(problem, where, banksIn(where), options);
  const searchSettable = () => {
    // On the way to a bank that can be set lie others that cannot.
    const { qSetting: _, ...withoutIt } = bounds;
    const open = { ...space, bounds: withoutIt };
    const found = banksIn(open);
    const free = finish(problem, open, found, options);
    if (isWithin(free.bands, bounds)) return free;
    const drawnIn = finish(problem, space, found, options);
    const held = search(space);
    return held.error < drawnIn.error ? held : drawnIn;
  };
  const first = bounds.qSetting ? searchSettable() : search(space);
  const calm = first.spoilt ? calmSpace(space) : undefined;
  const second = calm && search(calm);
  const { bands, polished, objective } = second && second.error < first.error ? second : first;
  objectiveValue(objective, bands);
  return {
    filters: filtersFromBands(bands).map(roundFilter),
    levelDb: levelOf(objective),
    rmsDb: Math.sqrt(squaredError(objective)),
    stopReason: polished.stopReason,
    iterations: polished.iterations,
    limitsReached: [...boundsReached(bands, bounds), ...sharedLimitsReached(problem, bands)],
  };
}

/** The search sees means over cells; what is told is taken on all points. */
function tellOf(problem: FitProblem, { onBetter }: FitOptions) {
  if (!onBetter) return undefined;
  const fine = objectiveOf(problem, fitGrid(problem, 1), SEARCH_PENALTY, RESTRAINT);
  let record = Number.POSITIVE_INFINITY;
  return ({ bands }: Refined) => {
    const error = squaredErrorOf(fine, bands);
    if (error >= record) return;
    record = error;
    onBetter(filtersFromBands(bands), Math.sqrt(error));
  };
}

/** Limits that take so much more than this share of the error, and more than so many dB², were not to be had so. */
const SPOILT_SHARE = 1.2;
const SPOILT_DB2 = 0.02;

/** Brings the best banks of a search to the full grid and within every limit; `spoilt` where the limits cost too much. */
function finish(
  problem: FitProblem,
  { bounds, objective: coarse }: SearchSpace,
  found: readonly Refined[],
  options: FitOptions,
) {
  const restraint = { levelRestraint: LEVEL_RESTRAINT * Math.min(1, found[0]!.value) };
  const fine = objectiveOf(problem, fitGrid(problem, 1), FINISH_PENALTY, RESTRAINT, restraint);
  const settling = objectiveOf(problem, coarse.grid, FINISH_PENALTY, RESTRAINT, {
    ...restraint,
    cutToReach: true,
  });
  // Banks that leaned on the search's soft limits fall behind here.
  const finalists = found
    .map((bank) => refine(settling, bank.bands, bounds, { maxIterations: 60, tolerance: 1e-5 }))
    .sort(byValue)
    .slice(0, options.effort.finalists)
    .map((settled) => refine(fine, settled.bands, bounds, { maxIterations: 8, tolerance: 1e-5 }));
  const forPruning = {
    ...fine,
    options: { ...fine.options, levelRestraint: restraint.levelRestraint / 100, cutToReach: true },
  };
  const pruned = prune(
    forPruning,
    leastBoostOfEquals(fine, finalists),
    bounds,
    allowanceFor(problem, options),
  );
  const exactFine = objectiveOf(problem, fine.grid, FINISH_PENALTY, 0, restraint);
  const polished = polish(exactFine, pruned.bands, bounds, {
    stretches: 3,
    iterationsPerStretch: 2,
    tolerance: 1e-5,
  });
  const wished = squaredErrorOf(exactFine, polished.bands);
  const bands = roundIntoLimits(problem, enforceLimits(problem, polished.bands, bounds), bounds);
  const error = squaredErrorOf(exactFine, bands);
  return { bands, polished, objective: exactFine, error, spoilt: error > SPOILT_SHARE * wished + SPOILT_DB2 };
}

function squaredErrorOf(objective: Objective, bands: Bands): number {
  objectiveValue(objective, bands);
  return squaredError(objective);
}

/** Free numbers of a band: so many independent points can it bring to where noise has put them. */
const NUMBERS_PER_BAND = 3;
/** Twice that, after Akaike: half of what a number wins on its own curve, it loses on the next. */
const CAUTION = 2;
/** What curves smoothed by a twelfth of an octave hold of independent points. */
const INDEPENDENT_PER_OCTAVE = 12;

function allowanceFor({ frequencyHz }: FitProblem, { repeatabilityDb = 0 }: FitOptions): PruneAllowance {
  const independent = INDEPENDENT_PER_OCTAVE * log2(frequencyHz.at(-1)! / frequencyHz[0]!);
  return {
    ...PRUNE_ALLOWANCE,
    goodEnoughDb: Math.max(PRUNE_ALLOWANCE.goodEnoughDb, repeatabilityDb),
    noisePerBand: (CAUTION * NUMBERS_PER_BAND * repeatabilityDb ** 2) / Math.max(1, independent),
  };
}

/** How many points of the problem's grid make one of the search's. */
function pointsPerCell({ frequencyHz }: FitProblem, { pointsPerOctave }: SearchEffort): number {
  const octaves = log2(frequencyHz.at(-1)! / frequencyHz[0]!);
  return Math.max(1, Math.floor(frequencyHz.length / Math.max(1, octaves * pointsPerOctave)));
}

function objectiveOf(
  problem: FitProblem,
  grid: FitGrid,
  penalty: number,
  restraint: number,
  { extraBands = 0, levelRestraint = LEVEL_RESTRAINT, cutToReach = false } = {},
): Objective {
  return objectiveFor(problem, grid, problem.limits.maxBands + extraBands, {
    penalty,
    restraint,
    levelRestraint,
    cutToReach,
  });
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

function leastBoostOfEquals(objective: Objective, banks: readonly Refined[]): Refined {
  const best = Math.min(...banks.map((bank) => bank.value));
  const boost = (bank: Refined) => {
    objectiveValue(objective, bank.bands);
    return Math.max(...objective.eqDb);
  };
  return banks
    .filter((bank) => bank.value <= best * EQUAL_SHARE ** 2)
    .map((bank) => ({ bank, boostDb: boost(bank) }))
    .reduce((a, b) => (b.boostDb < a.boostDb ? b : a)).bank;
}

/** Limits of the whole bank that it touches, in words. */
export function sharedLimitsReached(problem: FitProblem, bands: Bands): string[] {
  const { capDb, zoneRiseDb, levelLossDb } = measureExcess(problem, bands);
  return [
    ...(capDb > -0.05 ? ['sum of the EQ at its cap'] : []),
    ...(zoneRiseDb > -0.05 ? ['EQ in a protected zone at its cap'] : []),
    ...(levelLossDb > -0.05 ? ['level loss at its limit'] : []),
  ];
}
