import type { Bands } from '../bank/bands.js';
import { engineFor } from '../kernel/engineFor.js';
import { type Objective, squaredError } from '../objective/objective.js';

/** The objective's value; leaves `eqDb` and `residual` behind. */
export function objectiveValue(objective: Objective, bands: Bands): number {
  return engineFor(objective).evaluate(bands);
}

/** Squared error of a bank alone, dB². */
export function squaredErrorOf(objective: Objective, bands: Bands): number {
  objectiveValue(objective, bands);
  return squaredError(objective);
}
