import type { Setup } from '../../acoustics/setup.js';
import type { PathPair } from './pathModel.js';

/**
 * All pairs of a set-up's surfaces. A set-up does not say which planes are at right angles and which are parallel;
 * the fit leaves out those that do not pay.
 */
export function rightAnglePairs({ surfaces, microphoneDistance }: Setup): PathPair[] {
  return surfaces.flatMap((_, first) =>
    surfaces
      .slice(first + 1)
      .map((_, k) => ({ first, second: first + 1 + k, directM: microphoneDistance.m })),
  );
}
