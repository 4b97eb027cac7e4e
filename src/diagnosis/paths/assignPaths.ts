import { log } from '../../elementary/logarithm.js';
import { fitPaths, type PathPrior, priorCost } from './fitPaths.js';
import { PARAMETERS_PER_PATH, type PathPair, pairDifferenceM } from './pathModel.js';
import type { PathProblem } from './pathProblem.js';
import {
  LEAST_GAIN,
  type PathSolution,
  pathParameters,
  priceOf,
  SKETCH_ROUNDS,
  startOf,
} from './pathSolution.js';

/** How far off (in ln) a set-up may be and still give its name to a path that was found in the curve. */
const FARTHEST = 0.55;
/** A path this near (in ln) to where a pair of planes puts one is taken for that. */
const SAME = 0.1;
/** What it costs to hold that an expected path left no trace of its own in the curve. */
const UNSEEN_COST = 6;
const KEPT = 60;
/** Ways of naming the found paths that are followed to the end. */
const FOLLOWED = 3;

/**
 * Gives the expected paths the places of those found in the curve, in the ways that cost least by the priors, and
 * fits again, with the paths by way of two planes that follow from them. A set-up may be so far off that the nearest
 * path is not the right one; which of the ways is best, the fit decides.
 */
export function assignPaths(
  problem: PathProblem,
  expected: readonly PathPrior[],
  pairs: readonly PathPair[],
  blind: PathSolution,
): PathSolution[] {
  const found = blind.priors.map((_, p) => pathParameters(blind.fit.parameters, p));
  let ways: { taken: readonly number[]; cost: number }[] = [{ taken: [], cost: 0 }];
  for (const prior of expected) {
    ways = ways
      .flatMap(({ taken, cost }) => [
        { taken: [...taken, -1], cost: cost + UNSEEN_COST },
        ...found.flatMap((parameters, f) =>
          taken.includes(f) || Math.abs(parameters[0]! - prior.lnDifference) > FARTHEST
            ? []
            : [{ taken: [...taken, f], cost: cost + priorCost(prior, parameters, 0) - LEAST_GAIN }],
        ),
      ])
      .sort((a, b) => a.cost - b.cost)
      .slice(0, KEPT);
  }
  return ways
    .map(({ taken, cost }) => {
      const named = expected.flatMap((prior, e) => [...(found[taken[e]!] ?? startOf(prior))]);
      const doubled = doubledBy(pairs, named, found, taken);
      return { taken, named, doubled, cost: cost - LEAST_GAIN * doubled.size };
    })
    .sort((a, b) => a.cost - b.cost)
    .slice(0, FOLLOWED)
    .map(({ taken, named, doubled }) => {
      const rest = found.flatMap((parameters, f) =>
        taken.includes(f) || doubled.has(f) ? [] : [{ parameters, prior: blind.priors[f]! }],
      );
      const priors = [...expected, ...rest.map((r) => r.prior)];
      const start = [...named, ...rest.flatMap((r) => [...r.parameters])];
      return prune(problem, {
        priors,
        named: expected.length,
        pairs,
        fit: fitPaths(problem, priors, start, { pairs }),
      });
    });
}

/** Found paths that are where two of the named ones, one after the other, put a path. */
function doubledBy(
  pairs: readonly PathPair[],
  named: readonly number[],
  found: readonly Float64Array[],
  taken: readonly number[],
): Set<number> {
  const doubled = new Set<number>();
  for (const pair of pairs) {
    if (taken[pair.first]! < 0 || taken[pair.second]! < 0) continue;
    const lnDifference = log(pairDifferenceM(pair, named));
    found.forEach((parameters, f) => {
      if (!taken.includes(f) && Math.abs(parameters[0]! - lnDifference) < SAME) doubled.add(f);
    });
  }
  return doubled;
}

/** Leaves out what does not pay: unnamed paths, and pairs of planes that are not at right angles or hide each other. */
export function prune(problem: PathProblem, solution: PathSolution): PathSolution {
  let best = solution;
  for (const pair of solution.pairs) {
    const pairs = best.pairs.filter((p) => p !== pair);
    const fit = fitPaths(problem, best.priors, best.fit.parameters, { pairs, maxRounds: 1 });
    if (fit.cost < best.fit.cost) best = { ...best, pairs, fit };
  }
  if (best.pairs.length < solution.pairs.length) {
    best = { ...best, fit: fitPaths(problem, best.priors, best.fit.parameters, { pairs: best.pairs }) };
  }
  for (let p = best.priors.length - 1; p >= best.named; p--) {
    const priors = best.priors.filter((_, k) => k !== p);
    const start = best.fit.parameters.filter((_, k) => Math.floor(k / PARAMETERS_PER_PATH) !== p);
    const fit = fitPaths(problem, priors, start, { pairs: best.pairs, maxRounds: SKETCH_ROUNDS });
    const fewer = { ...best, priors, fit };
    if (priceOf(fewer) < priceOf(best)) best = fewer;
  }
  return best;
}
