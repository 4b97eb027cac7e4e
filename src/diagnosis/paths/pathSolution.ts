import type { PathFit, PathPrior } from './fitPaths.js';
import { PARAMETERS_PER_PATH, type PathPair } from './pathModel.js';

/** A set of paths fitted to a curve, of which the first `named` are those that were expected. */
export interface PathSolution {
  readonly priors: readonly PathPrior[];
  readonly named: number;
  readonly pairs: readonly PathPair[];
  readonly fit: PathFit;
}

/** A path found in the curve alone must lower the cost by this much. */
export const LEAST_GAIN = 14;

/** What solutions are compared by: misfit, priors, and a charge for each path that nothing gave reason to expect. */
export function priceOf({ priors, named, fit }: PathSolution): number {
  return fit.cost + LEAST_GAIN * (priors.length - named);
}

/** Rounds of fitting that show whether a start is worth following. */
export const SKETCH_ROUNDS = 4;

/** The middle of a prior as parameters to start from. */
export function startOf(prior: PathPrior): number[] {
  return [prior.lnDifference, ...prior.lnStrength];
}

/** Parameters of one path out of those of all. */
export function pathParameters(parameters: Float64Array, path: number): Float64Array {
  return parameters.slice(path * PARAMETERS_PER_PATH, (path + 1) * PARAMETERS_PER_PATH);
}
