import { exp } from '../elementary/exponential.js';
import { InputError } from '../inputError.js';
import { bandsFromFilters, filtersFromBands } from './bank/bands.js';
import { boundsOf, boundsReached } from './bank/bounds.js';
import { roundFilter } from './bank/roundBands.js';
import { enforceLimits, roundIntoLimits } from './finish/exactLimits.js';
import { sharedLimitsReached } from './finish/sharedLimits.js';
import { type FitOptions, fitFilters } from './fitFilters.js';
import { levelOf, squaredError } from './objective/objective.js';
import { objectiveFor } from './objective/objectiveFor.js';
import { fullGrid } from './problem/fitGrid.js';
import type { FitProblem, FitResult } from './problem/fitProblem.js';
import { objectiveValue } from './refinement/objectiveValue.js';
import { refine } from './refinement/refine.js';

/** What one EQ for several positions is to make small: the mean of their squared errors, or the worst of them. */
export const AIMS = ['mean', 'worst'] as const;
export type Aim = (typeof AIMS)[number];

/** @throws InputError where it is neither of the two */
export function readAim(written: unknown): Aim {
  const aim = AIMS.find((one) => one === written);
  if (aim === undefined) {
    throw new InputError(`--aim: found ${JSON.stringify(written)}, expected ${AIMS.join(' or ')}`);
  }
  return aim;
}

export interface PositionsFit extends FitResult {
  /** Weighted RMS of what remains at each position, about the common level. */
  readonly positionsRmsDb: readonly number[];
  /** The mean of the positions, so weighted, that the bank is the best fit to. */
  readonly deviationDb: Float64Array;
}

export interface PositionsOptions extends FitOptions {
  readonly aim: Aim;
  /** A fit of about the mean to begin with; made where absent. */
  readonly start?: FitResult;
}

const ROUNDS = 40;
const PENALTY = 200;
/** How strongly the first rounds move weight towards the worst positions; later ones move it less and less. */
const EAGERNESS = 0.6;

/**
 * One bank for several positions of one set-up. The mean squared error over positions is that of their mean curve, but
 * for a constant; so is any weighted mean. The worst position's error is therefore lowered by giving weight to the
 * positions that are worse than the rest, refining on the mean curve so weighted, and so on: the least worst error is
 * where no such weighting can be bettered any more. The bank of the round with the least worst error is taken. All this
 * is done once more from a bank that was searched for the weighting so found.
 *
 * @param problem its `deviationDb` is not looked at
 * @param positionsDb deviation at each position on the problem's grid and a common scale
 */
export function fitPositions(
  problem: FitProblem,
  positionsDb: readonly Float64Array[],
  options: PositionsOptions,
): PositionsFit {
  const even = positionsDb.map(() => 1 / positionsDb.length);
  const meanDb = weighted(positionsDb, even);
  const onMean = options.start ?? fitFilters({ ...problem, deviationDb: meanDb }, options);
  const meanErrors = errorsAt(problem, positionsDb, onMean);
  const mean = { ...onMean, positionsRmsDb: meanErrors, deviationDb: meanDb };
  if (options.aim === 'mean' || positionsDb.length < 2 || onMean.filters.length === 0) return mean;
  const leaning = leanToWorst(problem, positionsDb, mean);
  // Refinement keeps every band near where the mean wanted it; the leaning curve may want it elsewhere.
  const { deviationDb } = leaning;
  const limits = { ...problem.limits, maxBands: onMean.filters.length };
  const anew = fitFilters({ ...problem, deviationDb, limits }, options);
  if (anew.filters.length === 0) return leaning;
  const positionsRmsDb = errorsAt(problem, positionsDb, anew);
  const fromThere = leanToWorst(problem, positionsDb, { ...anew, positionsRmsDb, deviationDb });
  return worstOf(fromThere) < worstOf(leaning) ? fromThere : leaning;
}

const worstOf = ({ positionsRmsDb }: PositionsFit) => Math.max(...positionsRmsDb);

/** Refines a bank for ever other weightings of the positions; the best on the way for the worst of them. */
function leanToWorst(
  problem: FitProblem,
  positionsDb: readonly Float64Array[],
  start: PositionsFit,
): PositionsFit {
  const bounds = boundsOf(problem.limits);
  let shares = positionsDb.map(() => 1 / positionsDb.length);
  let bands = bandsFromFilters(start.filters);
  let best = start;
  for (let round = 0; round < ROUNDS; round++) {
    const errors = errorsAt(problem, positionsDb, { filters: filtersFromBands(bands), levelDb: undefined });
    shares = towardsWorst(shares, errors, EAGERNESS / Math.sqrt(1 + round));
    const now = { ...problem, deviationDb: weighted(positionsDb, shares) };
    const refined = refine(objectiveOf(now, bands.types.length), bands, bounds, {
      maxIterations: 6,
      tolerance: 1e-5,
    });
    bands = refined.bands;
    const candidate = errorsAt(problem, positionsDb, {
      filters: filtersFromBands(bands),
      levelDb: undefined,
    });
    if (round % 4 !== 3 || Math.max(...candidate) >= Math.max(...best.positionsRmsDb)) continue;
    // Limits do not depend on the weighting.
    const exact = roundIntoLimits(now, enforceLimits(now, bands, bounds), bounds);
    const objective = objectiveOf(now, Math.max(1, exact.types.length));
    objectiveValue(objective, exact);
    const fit = { filters: filtersFromBands(exact).map(roundFilter), levelDb: levelOf(objective) };
    const positionsRmsDb = errorsAt(problem, positionsDb, fit);
    if (Math.max(...positionsRmsDb) >= Math.max(...best.positionsRmsDb)) continue;
    best = {
      ...start,
      ...fit,
      rmsDb: Math.sqrt(squaredError(objective)),
      limitsReached: [...boundsReached(exact, bounds), ...sharedLimitsReached(now, exact)],
      positionsRmsDb,
      deviationDb: now.deviationDb,
    };
  }
  return best;
}

function weighted(positionsDb: readonly Float64Array[], shares: readonly number[]): Float64Array {
  return positionsDb[0]!.map((_, p) => positionsDb.reduce((sum, db, k) => sum + shares[k]! * db[p]!, 0));
}

/** More weight for what is worse than the weighted mean of all, in proportion to its share. */
function towardsWorst(shares: readonly number[], errors: readonly number[], eagerness: number): number[] {
  const worst = Math.max(...errors, 1e-9);
  const raised = shares.map(
    (share, k) => Math.max(share, 1e-4) * exp(eagerness * 4 * (errors[k]! / worst - 1)),
  );
  const sum = raised.reduce((a, b) => a + b, 0);
  return raised.map((share) => share / sum);
}

/** Each position's error about the one level that all share: the given one, or that of their even mean. */
function errorsAt(
  problem: FitProblem,
  positionsDb: readonly Float64Array[],
  { filters, levelDb }: { readonly filters: FitResult['filters']; readonly levelDb: number | undefined },
): number[] {
  const bands = bandsFromFilters(filters);
  const even = positionsDb.map(() => 1 / positionsDb.length);
  let level = problem.levelDb ?? levelDb;
  if (level === undefined) {
    const objective = objectiveOf({ ...problem, deviationDb: weighted(positionsDb, even) }, filters.length);
    objectiveValue(objective, bands);
    level = levelOf(objective);
  }
  return positionsDb.map((deviationDb) => {
    const objective = objectiveOf({ ...problem, deviationDb, levelDb: level }, filters.length);
    objectiveValue(objective, bands);
    return Math.sqrt(squaredError(objective));
  });
}

function objectiveOf(problem: FitProblem, maxBands: number) {
  return objectiveFor(problem, fullGrid(problem), maxBands, {
    penalty: PENALTY,
    restraint: 0,
    levelRestraint: 0,
  });
}
