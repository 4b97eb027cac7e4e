import { FIRM_PENALTY, LEVEL_RESTRAINT } from '../../fit/finish/exactLimits.js';
import type { Objective } from '../../fit/objective/objective.js';
import { objectiveFor } from '../../fit/objective/objectiveFor.js';
import type { FitGrid } from '../../fit/problem/fitGrid.js';
import type { FitProblem } from '../../fit/problem/fitProblem.js';

/** What rounding strives for: nothing is preferred among equals, since steps leave none. */
export function deviceObjective(
  problem: FitProblem,
  grid: FitGrid,
  maxBands: number,
  penalty = FIRM_PENALTY,
): Objective {
  return objectiveFor(problem, grid, maxBands, { penalty, restraint: 0, levelRestraint: LEVEL_RESTRAINT });
}
