import { exp } from '../../elementary/exponential.js';
import { cos } from '../../elementary/sine.js';
import type { PathPrior } from '../paths/fitPaths.js';
import { PARAMETERS_PER_PATH } from '../paths/pathModel.js';
import type { Explanation } from './explainByPaths.js';
import { pathStrength } from './fittedSurface.js';

/** As many degrees of freedom as the fit gives what is held of a length. */
const STUDENT_DEGREES = 3;

/**
 * What a path adds to the direct sound at a frequency, as a share of it, negative where it cancels: by the fit, and as
 * much again by what was held of it before the curve was looked at, if anything was. Where several explanations fit a curve
 * almost as well, the last digits choose among them, and what was measured with a tape is the same in all.
 */
export function pathPressure(
  { fit, expected }: Explanation,
  path: number,
  frequencyHz: number,
  speedOfSoundMs: number,
): number {
  const turnPerM = (2 * Math.PI * frequencyHz) / speedOfSoundMs;
  const lnDifference = fit.parameters[path * PARAMETERS_PER_PATH]!;
  const fitted = pathStrength(fit.parameters, path, frequencyHz) * cos(turnPerM * exp(lnDifference));
  const prior = expected[path]?.prior;
  return fitted + (prior ? foreseen(prior, lnDifference, frequencyHz, turnPerM) : 0);
}

/** The mean over all lengths that the prior allows; it counts the less the farther the fit had to go from it. */
function foreseen(prior: PathPrior, lnFitted: number, frequencyHz: number, turnPerM: number): number {
  const turn = turnPerM * exp(prior.lnDifference);
  const strength = pathStrength([prior.lnDifference, ...prior.lnStrength], 0, frequencyHz);
  const blurred = exp(-((prior.lnDifferenceScale * turn) ** 2) / 2);
  const z = (lnFitted - prior.lnDifference) / prior.lnDifferenceScale;
  return (strength * cos(turn) * blurred) / (1 + (z * z) / STUDENT_DEGREES);
}
