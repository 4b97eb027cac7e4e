import { fitPaths } from './fitPaths.js';
import { PARAMETERS_PER_PATH, sumPaths } from './pathModel.js';
import type { PathProblem } from './pathProblem.js';
import { type PathSolution, SKETCH_ROUNDS } from './pathSolution.js';

const STEPS = 8;
const LEAST_REACH = 0.3;
const ROUNDS = 2;

/**
 * Tries other lengths for each expected path while the others stay, then fits all from the most promising: a fit from
 * the nominal place may have ended in the wrong valley.
 */
export function rescanPaths(problem: PathProblem, first: PathSolution): PathSolution {
  const { priors, named, pairs } = first;
  const { whitener, grid } = problem;
  const target = whitener.whiten(problem.levelDb);
  let best = first.fit;
  for (let round = 0; round < ROUNDS; round++) {
    const before = best.cost;
    for (let p = 0; p < named; p++) {
      const prior = priors[p]!;
      const base = p * PARAMETERS_PER_PATH;
      const reach = Math.max(LEAST_REACH, 3 * prior.lnDifferenceScale);
      const trials = Array.from({ length: 2 * STEPS + 1 }, (_, step) => {
        const start = best.parameters.slice();
        start[base] = prior.lnDifference + (step / STEPS - 1) * reach;
        start.set(prior.lnStrength, base + 1);
        const model = whitener.whiten(sumPaths(grid, start, pairs).levelDb);
        return { start, cost: model.reduce((sum, m, i) => sum + (target[i]! - m) ** 2, 0) };
      });
      const current = best.parameters[base]!;
      const promising = trials
        .filter(
          ({ start, cost }, i) =>
            Math.abs(start[base]! - current) > 0.06 &&
            cost <= (trials[i - 1]?.cost ?? cost) &&
            cost < (trials[i + 1]?.cost ?? Number.POSITIVE_INFINITY),
        )
        .sort((a, b) => a.cost - b.cost)
        .slice(0, 2);
      for (const { start } of promising) {
        const sketch = fitPaths(problem, priors, start, { pairs, maxRounds: SKETCH_ROUNDS });
        if (sketch.cost > best.cost + 10) continue;
        const fit = fitPaths(problem, priors, sketch.parameters, { pairs });
        if (fit.cost < best.cost - 0.5) best = fit;
      }
    }
    if (best.cost > before - 0.5) break;
  }
  return { ...first, fit: best };
}
