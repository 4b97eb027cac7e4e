import type { Setup } from '../acoustics/setup.js';
import { speedOfSound } from '../acoustics/speedOfSound.js';
import { type PathPair, pathGrid, sumPaths } from '../diagnosis/pathModel.js';
import { rightAnglePairs } from '../diagnosis/rightAnglePairs.js';
import { faces } from './movePlacement.js';
import { type ReflectedPath, reflectedPath } from './reflectedPath.js';

/** What all surfaces together are expected to do to the direct sound, over it, in dB. */
export function togetherDb(setup: Setup, frequencyHz: Float64Array): Float64Array {
  const near = setup.surfaces.filter(
    (surface) => surface.speakerDistance.m > 0 && surface.microphoneDistance.m > 0,
  );
  const paths = near.map((surface) => reflectedPath(setup, surface));
  const grid = pathGrid(frequencyHz, speedOfSound(setup.temperatureC));
  return sumPaths(grid, pathParametersOf(paths), doublePaths({ ...setup, surfaces: near })).levelDb;
}

/** The paths as the path model takes them, one after another. */
export function pathParametersOf(paths: readonly ReflectedPath[]): Float64Array {
  return Float64Array.from(
    paths.flatMap(({ differenceM, lnStrength }) => [Math.log(differenceM), ...lnStrength]),
  );
}

/** Pairs of surfaces that sound may meet one after the other: all but walls that face each other. */
export function doublePaths(setup: Setup): PathPair[] {
  const { surfaces } = setup;
  return rightAnglePairs(setup).filter(
    ({ first, second }) => !faces(setup, surfaces[first]!, surfaces[second]!),
  );
}
