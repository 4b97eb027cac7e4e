import { fitPaths, priorCost } from './fitPaths.js';
import { addPathTo, levelOfSum } from './pathModel.js';
import type { PathProblem } from './pathProblem.js';
import { type PathSolution, priceOf, SKETCH_ROUNDS, startOf } from './pathSolution.js';

/** How far off (in ln) path differences are taken at most, and the steps on the way. */
const OFFSETS = [-0.24, -0.12, 0, 0.12, 0.24];
/** All ways of being off are tried for this many surfaces, those that reflect most; 5 to this power. */
const MOST_AT_ONCE = 4;
const SKETCHED = 6;
const FOLLOWED = 2;

/**
 * Solutions that start with several surfaces elsewhere than the set-up has them, at once: where a tape was read wrong
 * for two of them, moving one alone finds nothing better. Every combination is held against the curve with the
 * strengths of the priors; the most promising that are unlike each other are fitted.
 */
export function otherPlaces(problem: PathProblem, nominal: PathSolution): PathSolution[] {
  const { priors, pairs } = nominal;
  const { grid, whitener } = problem;
  const starts = priors.map(startOf);
  const moved = priors
    .map((prior, p) => ({ p, strength: prior.lnStrength.reduce((sum, s) => sum + s, 0) }))
    .sort((a, b) => b.strength - a.strength)
    .slice(0, MOST_AT_ONCE)
    .map(({ p }) => p);
  const target = whitener.whiten(problem.levelDb);
  const at = (p: number, step: number): number[] => {
    const [lnDifference = 0, ...lnStrength] = starts[p]!;
    return [lnDifference + OFFSETS[step]!, ...lnStrength];
  };
  const middle = OFFSETS.indexOf(0);
  const n = grid.frequencyHz.length;
  const still = { re: new Float64Array(n).fill(1), im: new Float64Array(n) };
  priors.forEach((_, p) => {
    if (!moved.includes(p)) addPathTo(grid, at(p, middle), still);
  });
  const single = moved.map((p) =>
    OFFSETS.map((_, step) => {
      const part = { re: new Float64Array(n), im: new Float64Array(n) };
      addPathTo(grid, at(p, step), part);
      return { ...part, cost: priorCost(priors[p]!, Float64Array.from(at(p, step)), 0) };
    }),
  );
  const combinations = allSteps(moved.length).map((steps) => {
    const re = still.re.slice();
    const im = still.im.slice();
    let cost = 0;
    steps.forEach((step, k) => {
      const part = single[k]![step]!;
      cost += part.cost;
      for (let i = 0; i < n; i++) {
        re[i]! += part.re[i]!;
        im[i]! += part.im[i]!;
      }
    });
    const modelled = whitener.whiten(levelOfSum(re, im));
    for (let i = 0; i < n; i++) cost += (target[i]! - modelled[i]!) ** 2;
    return { steps, cost };
  });
  return unlike(combinations.sort((a, b) => a.cost - b.cost))
    .map(({ steps }) => {
      const start = priors.flatMap((_, p) => at(p, steps[moved.indexOf(p)] ?? middle));
      return {
        ...nominal,
        fit: fitPaths(problem, priors, start, { pairs, maxRounds: SKETCH_ROUNDS }),
      };
    })
    .sort((a, b) => priceOf(a) - priceOf(b))
    .slice(0, FOLLOWED)
    .map((sketch) => ({ ...sketch, fit: fitPaths(problem, priors, sketch.fit.parameters, { pairs }) }));
}

/** All ways to choose one offset for each of `count` surfaces. */
function allSteps(count: number): number[][] {
  let ways: number[][] = [[]];
  for (let k = 0; k < count; k++) ways = ways.flatMap((way) => OFFSETS.map((_, step) => [...way, step]));
  return ways;
}

/** The first few of a sorted list of which no two differ by a single step only. */
function unlike<T extends { readonly steps: readonly number[] }>(sorted: readonly T[]): T[] {
  const kept: T[] = [];
  for (const next of sorted) {
    if (kept.length === SKETCHED) break;
    const near = kept.some(({ steps }) => steps.every((step, k) => Math.abs(step - next.steps[k]!) <= 1));
    if (!near) kept.push(next);
  }
  return kept;
}
