import { isInside } from '../../curve/isInside.js';
import type { FitProblem } from './fitProblem.js';

/** A problem with all that the search heeds but no error is told of taken out: the lines that stand for dips to be left. */
export function countedOnly(problem: FitProblem): FitProblem {
  const { frequencyHz, weight, zones } = problem;
  return { ...problem, weight: weight.map((w, i) => (isInside(frequencyHz[i]!, zones) ? 0 : w)) };
}
