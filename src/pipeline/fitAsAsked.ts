import { weightedRms } from '../curve/weightedRms.js';
import { bankResponseDb } from '../filter/bankResponseDb.js';
import { fitFilters } from '../fit/fitFilters.js';
import { fitPositions } from '../fit/fitPositions.js';
import type { FitProblem, FitResult } from '../fit/problem/fitProblem.js';
import type { SearchEffort } from '../fit/search/search.js';
import { seededRandom } from '../fit/seededRandom.js';
import type { DesignRequest } from './designRequest.js';
import type { Repeatability } from './repeatability.js';
import { roundDb } from './rounding.js';

export interface AskedFit {
  readonly fit: FitResult;
  /** The problem that `fit` solves: where the worst position counts, its curve leans towards the worst ones. */
  readonly problem: FitProblem;
  /** The fit to the average of the positions, from which the others begin. */
  readonly onAverage: FitResult;
  /** Without regard to noise, where there was regard. */
  readonly regardless?: FitResult;
}

/**
 * One fit as the request asks for it: of the average or with the worst position in view, with or without regard to how
 * well the measurement repeats.
 *
 * @param positionsDb deviation at each position, before what the held filters do
 */
export function fitAsAsked(
  problem: FitProblem,
  positionsDb: readonly Float64Array[],
  request: Pick<DesignRequest, 'aim' | 'seed' | 'held' | 'measurements'>,
  { effort, repeats }: { readonly effort: SearchEffort; readonly repeats: Repeatability | undefined },
): AskedFit {
  const { aim, seed, held = [], measurements } = request;
  const options = () => ({ random: seededRandom(seed), effort });
  // Noise of one measurement goes into their average in part only.
  const noise = repeats && { repeatabilityDb: repeats.db / Math.sqrt(measurements.length) };
  const onAverage = fitFilters(problem, { ...options(), ...noise });
  const before = { onAverage, ...(noise && { regardless: fitFilters(problem, options()) }) };
  if (aim !== 'worst' || positionsDb.length < 2) return { ...before, fit: onAverage, problem };
  const heldDb = bankResponseDb(held, problem.sampleRateHz, problem.frequencyHz);
  const beside = positionsDb.map((db) => db.map((level, i) => level + heldDb[i]!));
  const fit = fitPositions(problem, beside, { ...options(), ...noise, aim, start: onAverage });
  return { ...before, fit, problem: { ...problem, deviationDb: fit.deviationDb } };
}

/** Weighted RMS of what a fit leaves of a problem's curve, about the fit's own level. */
export function remainingRmsDb(
  problem: FitProblem,
  { filters, levelDb }: Pick<FitResult, 'filters' | 'levelDb'>,
): number {
  const { deviationDb, weight, sampleRateHz, frequencyHz } = problem;
  const eqDb = bankResponseDb(filters, sampleRateHz, frequencyHz);
  const level = roundDb(levelDb);
  return weightedRms(
    deviationDb.map((db, i) => db + eqDb[i]! - level),
    weight,
  );
}
