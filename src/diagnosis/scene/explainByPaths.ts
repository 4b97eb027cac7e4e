import type { Curve, FrequencyRange } from '../../curve/curve.js';
import { assignPaths, prune } from '../paths/assignPaths.js';
import { findPaths } from '../paths/findPaths.js';
import { fitPaths, type PathFit, type PathPrior } from '../paths/fitPaths.js';
import { otherPlaces } from '../paths/otherPlaces.js';
import type { PathGrid, PathPair } from '../paths/pathModel.js';
import { pathProblem } from '../paths/pathProblem.js';
import { type PathSolution, priceOf, startOf } from '../paths/pathSolution.js';
import { rescanPaths } from '../paths/rescanPaths.js';
import type { TimeReflection } from './diagnosisInput.js';

/** A path that the set-up or the impulse response gives reason to look for. */
export interface ExpectedPath {
  /** The surface's name in the set-up. */
  readonly name?: string;
  readonly prior: PathPrior;
  /** Where the impulse response shows it. */
  readonly seen?: TimeReflection;
}

/** The reflections that explain a curve best. */
export interface Explanation {
  /** Grid of the fitted span. */
  readonly grid: PathGrid;
  readonly fit: PathFit;
  /** For each path what it was expected as; undefined for one that was found in the curve alone. */
  readonly expected: readonly (ExpectedPath | undefined)[];
  /** Paths by way of two of them, one after the other. */
  readonly pairs: readonly PathPair[];
  /** How much better (in squared deviations) they describe the curve than no reflection at all does. */
  readonly gain: number;
}

export interface ExplainOptions {
  readonly speedOfSoundMs: number;
  readonly expected: readonly ExpectedPath[];
  /** Pairs of expected paths, by their place in the list, whose planes may be at right angles. */
  readonly pairs: readonly PathPair[];
}

/** Paths that may be found in the curve with no reason given to expect them. */
const MOST_UNNAMED = 5;
const MOST_BESIDE_EXPECTED = 2;
/** Fits from the set-up's places and from others that are followed to the end. */
const FOLLOWED = 2;

/**
 * Finds strengths and lengths of reflected paths, all together, against a curve.
 *
 * With expected paths it is tried both ways, since each has its valleys to be caught in: from the set-up to the
 * curve, and from the paths that the curve shows by itself to the names that the set-up has for them.
 */
export function explainByPaths(
  curve: Curve,
  range: FrequencyRange,
  { speedOfSoundMs, expected, pairs }: ExplainOptions,
): Explanation | undefined {
  const problem = pathProblem(curve, range, speedOfSoundMs);
  if (!problem) return undefined;
  const nothing: PathSolution = { priors: [], named: 0, pairs: [], fit: fitPaths(problem, [], []) };
  let best = findPaths(problem, nothing, MOST_UNNAMED);
  if (expected.length > 0) {
    const priors = expected.map((e) => e.prior);
    const solutions = assignPaths(problem, priors, pairs, best);
    const nominal = {
      priors,
      named: priors.length,
      pairs,
      fit: fitPaths(problem, priors, priors.flatMap(startOf), { pairs }),
    };
    const starts = [rescanPaths(problem, nominal), ...otherPlaces(problem, nominal)];
    starts.sort((a, b) => priceOf(a) - priceOf(b));
    for (const start of starts.slice(0, FOLLOWED)) {
      solutions.push(prune(problem, findPaths(problem, start, MOST_BESIDE_EXPECTED)));
    }
    best = solutions.reduce((a, b) => (priceOf(b) < priceOf(a) ? b : a));
  }
  return {
    grid: problem.grid,
    fit: best.fit,
    expected: best.priors.map((_, p) => expected[p]),
    pairs: best.pairs,
    gain: nothing.fit.cost - best.fit.cost,
  };
}
