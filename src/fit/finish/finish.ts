import { log2 } from '../../elementary/logarithm.js';
import type { Bands } from '../bank/bands.js';
import type { Charge } from '../objective/gainCharge.js';
import type { Objective, ObjectiveOptions } from '../objective/objective.js';
import { objectiveFor } from '../objective/objectiveFor.js';
import { type FitGrid, fullGrid } from '../problem/fitGrid.js';
import type { FitProblem } from '../problem/fitProblem.js';
import { objectiveValue, squaredErrorOf } from '../refinement/objectiveValue.js';
import { type Refined, refine } from '../refinement/refine.js';
import { byValue, type SearchSpace } from '../search/searchSpace.js';
import { enforceLimits, LEVEL_RESTRAINT, roundIntoLimits } from './exactLimits.js';
import { plainerBanks, plainestOf } from './plainer.js';
import { allowanceDb } from './plainScales.js';
import { type Polished, polish } from './polish.js';
import { type PruneAllowance, prune, withoutFaint } from './prune.js';

export interface FinishOptions {
  /** Banks that are brought to the full grid. */
  readonly finalists: number;
  /** RMS in dB to which the curve repeats. */
  readonly repeatabilityDb?: number;
  /** Looks for a bank whose bands work less against each other (see plainer.ts). */
  readonly plainly?: boolean;
}

/** A bank within every limit, in numbers that can be written down. */
export interface Finished {
  readonly bands: Bands;
  /** How its refinement ended. */
  readonly polished: Polished;
  /** On the full grid, the limits firm. */
  readonly objective: Objective;
  /** Squared error, dB². */
  readonly error: number;
  /** Whether the limits cost so much that a search among calmer banks may come nearer. */
  readonly spoilt: boolean;
}

/** Stiffer ones let the finish creep: its steps meet the kink of one limit after the other. */
const PENALTY = 200;
/** Prefers the smaller EQ among equal errors; costs less than a thousandth of any error worth mending. */
export const RESTRAINT = 1e-5;
/**
 * Bands are dropped while the RMS error stays within 0.2 % or 0.001 dB of the full bank's, or below 0.03 dB. Loudness
 * hardly counts there: two shelves that only add up to a constant gain are two bands for nothing, since the input gain
 * takes it back.
 */
export const PRUNE_ALLOWANCE = { share: 0.002, db: 0.001, goodEnoughDb: 0.03 };
/** Banks whose errors differ by less are equals; the one that boosts least is taken. */
const EQUAL_SHARE = 1.003;

/** Limits that take so much more than this share of the error, and more than so many dB², were not to be had so. */
const SPOILT_SHARE = 1.2;
const SPOILT_DB2 = 0.02;

/** Brings the best banks of a search to the full grid and the best of those within every limit. */
export function finish(
  problem: FitProblem,
  space: SearchSpace,
  found: readonly Refined[],
  options: FinishOptions,
): Finished {
  const { bounds, objective: coarse } = space;
  const levelRestraint = LEVEL_RESTRAINT * Math.min(1, found[0]!.value);
  const firmOn = (grid: FitGrid, other: Partial<ObjectiveOptions> = {}) =>
    objectiveFor(problem, grid, problem.limits.maxBands, {
      penalty: PENALTY,
      restraint: RESTRAINT,
      levelRestraint,
      ...other,
    });
  const fine = firmOn(fullGrid(problem));
  const settling = firmOn(coarse.grid, { cutToReach: true });
  // Banks that leaned on the search's soft limits fall behind here.
  const settled = found
    .map((bank) => refine(settling, bank.bands, bounds, { maxIterations: 60, tolerance: 1e-5 }))
    .sort(byValue);
  const finalists = settled
    .slice(0, options.finalists)
    .map((settled) => refine(fine, settled.bands, bounds, { maxIterations: 8, tolerance: 1e-5 }));
  const forPruning = {
    ...fine,
    options: { ...fine.options, levelRestraint: levelRestraint / 100, cutToReach: true },
  };
  const kept = leastBoostOfEquals(fine, finalists);
  const exactly = firmOn(fine.grid, { restraint: 0 });
  const toItsEnd = (bank: Refined, charge?: Charge): Finished => {
    const pruned = prune(forPruning, bank, bounds, allowanceFor(problem, options));
    const still = pruned.bands.types.length === bank.bands.types.length ? charge : undefined;
    const polished = polish(exactly, pruned.bands, bounds, { ...POLISH, ...(still && { charge: still }) });
    const wished = squaredErrorOf(exactly, polished.bands);
    const limited = enforceLimits(problem, polished.bands, bounds, still);
    // The limits may have left next to nothing of a band.
    const plain = withoutFaint(forPruning, { ...pruned, bands: limited }, bounds);
    if (plain.bands.types.length < limited.types.length) return toItsEnd(plain);
    const bands = roundIntoLimits(problem, limited, bounds);
    const error = squaredErrorOf(exactly, bands);
    const spoilt = error > SPOILT_SHARE * wished + SPOILT_DB2;
    return { bands, polished, objective: exactly, error, spoilt };
  };
  const error = squaredErrorOf(fine, kept.bands);
  if (!options.plainly || Math.sqrt(error) < PRUNE_ALLOWANCE.goodEnoughDb) return toItsEnd(kept);
  const unseen = squaredErrorOf(fine, settled[0]!.bands) - squaredErrorOf(settling, settled[0]!.bands);
  const banks = plainerBanks({ ...space, objective: settling }, settled, Math.max(0, unseen));
  const plain = plainestOf({ ...space, objective: fine }, kept, banks);
  if (!plain) return toItsEnd(kept);
  const ended = toItsEnd({ ...plain, iterations: 0 }, plain.charge);
  if (isWorthIt(ended.error, error)) return ended;
  const usual = toItsEnd(kept);
  return isWorthIt(ended.error, usual.error) ? ended : usual;
}

const POLISH = { stretches: 3, iterationsPerStretch: 2, tolerance: 1e-5 };

/** Whether the squared error of a plainer bank, its limits exact, is within what it may be. */
function isWorthIt(error: number, usual: number): boolean {
  const usualDb = Math.sqrt(usual);
  return Math.sqrt(error) <= usualDb + allowanceDb(usualDb);
}

/** Free numbers of a band: so many independent points can it bring to where noise has put them. */
const NUMBERS_PER_BAND = 3;
/** Twice that, after Akaike: half of what a number wins on its own curve, it loses on the next. */
const CAUTION = 2;
/** What curves smoothed by a twelfth of an octave hold of independent points. */
const INDEPENDENT_PER_OCTAVE = 12;

function allowanceFor({ frequencyHz }: FitProblem, { repeatabilityDb = 0 }: FinishOptions): PruneAllowance {
  const independent = INDEPENDENT_PER_OCTAVE * log2(frequencyHz.at(-1)! / frequencyHz[0]!);
  return {
    ...PRUNE_ALLOWANCE,
    goodEnoughDb: Math.max(PRUNE_ALLOWANCE.goodEnoughDb, repeatabilityDb),
    noisePerBand: (CAUTION * NUMBERS_PER_BAND * repeatabilityDb ** 2) / Math.max(1, independent),
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
