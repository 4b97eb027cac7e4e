import type { Bands } from '../bank/bands.js';
import { measureExcess } from '../objective/excess.js';
import type { FitProblem } from '../problem/fitProblem.js';

/** Limits of the whole bank that it touches, in words. */
export function sharedLimitsReached(problem: FitProblem, bands: Bands): string[] {
  const { capDb, zoneRiseDb, levelLossDb } = measureExcess(problem, bands);
  return [
    ...(capDb > -0.05 ? ['sum of the EQ at its cap'] : []),
    ...(zoneRiseDb > -0.05 ? ['EQ in a protected zone at its cap'] : []),
    ...(levelLossDb > -0.05 ? ['level loss at its limit'] : []),
  ];
}
