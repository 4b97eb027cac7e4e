import { hypot } from '../elementary/power.js';
import { roundDb } from '../pipeline/rounding.js';
import type { Prediction } from '../schema/prediction.js';
import type { ExplainedCurve } from './explainCurve.js';
import { distanceDeviationM, fittedPlane } from './fitMirrors.js';
import { reflectionFactor } from './mirrorModel.js';
import { roundM } from './roundPrediction.js';

/** Frequencies at which reflection factors are told. */
const TOLD_HZ = [100, 300, 1000];

/** Where each surface fits the curve, and how much of the sound it sends back (its reflection factor). */
export function fittedSurfaces({ setup, fit }: ExplainedCurve): NonNullable<Prediction['fitted']> {
  return setup.surfaces.map((surface, k) => {
    const plane = fittedPlane(setup, surface, k, fit.parameters);
    return {
      name: surface.name,
      speakerDistanceM: roundM(plane.hs),
      deviationM: roundM(distanceDeviationM(surface, k, fit)),
      reflects: TOLD_HZ.map((frequencyHz) => {
        const { re, im } = reflectionFactor(plane, frequencyHz);
        return { frequencyHz, factor: roundDb(hypot(re, im)) };
      }),
    };
  });
}
