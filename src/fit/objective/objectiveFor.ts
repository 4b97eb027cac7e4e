import type { FitGrid } from '../problem/fitGrid.js';
import type { FitProblem } from '../problem/fitProblem.js';
import { createObjective, type Objective, type ObjectiveOptions } from './objective.js';

/** The objective of a problem on one of its grids; level and greatest loss of it are the problem's. */
export function objectiveFor(
  { levelDb, limits }: FitProblem,
  grid: FitGrid,
  maxBands: number,
  options: Omit<ObjectiveOptions, 'levelDb' | 'maxLevelLossDb'>,
): Objective {
  return createObjective(grid, maxBands, {
    ...options,
    maxLevelLossDb: limits.maxLevelLossDb,
    ...(levelDb !== undefined && { levelDb }),
  });
}
