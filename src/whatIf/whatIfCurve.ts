import type { Setup } from '../acoustics/setup.js';
import type { Curve } from '../curve/curve.js';
import type { ExplainedCurve } from './explainCurve.js';
import { mirroredDb } from './mirrorScene.js';

/**
 * The measured curve as it would be with speaker and microphone elsewhere: the fitted reflections taken out, those of
 * the new place put in. A few milliseconds, so that a speaker can be dragged.
 *
 * @param moved the set-up after the move (`movePlacement`): the same surfaces in the same order, other distances
 * @returns the level on the grid of the measured curve
 */
export function whatIfCurve(explained: ExplainedCurve, moved: Setup): Curve {
  const { curve, setup, withoutDb } = explained;
  const thereDb = mirroredDb(explained, moved);
  const nearerDb = 20 * Math.log10(setup.microphoneDistance.m / moved.microphoneDistance.m);
  return {
    frequencyHz: curve.frequencyHz,
    levelDb: withoutDb.map((db, i) => db + thereDb[i]! + nearerDb),
  };
}
