import type { Setup } from '../acoustics/setup.js';
import type { Curve } from '../curve/curve.js';
import { log, log10 } from '../elementary/logarithm.js';
import { cos } from '../elementary/sine.js';
import type { ExplainedCurve } from './explainCurve.js';
import { mirroredDb } from './mirrorScene.js';

/**
 * The measured curve as it would be with speaker and microphone elsewhere: the fitted reflections taken out, those of
 * the new place put in; above some 2 kHz it stays as it is. A few milliseconds, so that a speaker can be dragged.
 *
 * @param moved the set-up after the move (`movePlacement`): the same surfaces in the same order, other distances
 * @returns the level on the grid of the measured curve
 */
export function whatIfCurve(explained: ExplainedCurve, moved: Setup): Curve {
  const { curve, setup, reflectedDb } = explained;
  const thereDb = mirroredDb(explained, moved);
  const nearerDb = 20 * log10(setup.microphoneDistance.m / moved.microphoneDistance.m);
  return {
    frequencyHz: curve.frequencyHz,
    levelDb: curve.levelDb.map(
      (db, i) => db + nearerDb + known(curve.frequencyHz[i]!) * (thereDb[i]! - reflectedDb[i]!),
    ),
  };
}

/**
 * A path is known to a centimetre or so. Above these frequencies that is too much of a wave to say where the dips of
 * its comb lie, and nothing was fitted there, so the curve is left as it is.
 */
const KNOWN_TO_HZ = 1500;
const UNKNOWN_FROM_HZ = 3000;

function known(hz: number): number {
  const share = log(hz / KNOWN_TO_HZ) / log(UNKNOWN_FROM_HZ / KNOWN_TO_HZ);
  return 0.5 * (1 + cos(Math.PI * Math.min(1, Math.max(0, share))));
}
