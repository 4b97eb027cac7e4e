import type { ReflectionModel } from './reflectionModel.js';

export interface Cabinet {
  /** Radius of the sphere that stands for the cabinet: about half its width, or a little more. */
  readonly radiusM: number;
  /** How far the sphere's centre lies behind the point that distances are measured from (the front baffle: one radius). */
  readonly centreBehindM: number;
}

/**
 * The model of a reflection from a wall behind, for a cabinet taken as a sphere.
 *
 * Its two numbers were fitted to the ratio of rear to front radiation in the series of `sphereBaffle.ts`: a corner at
 * ka = 1.25 and a lag of 2.2 radii from the sphere's centre, with which the model follows the sphere to ka = 1.5 within
 * 1.2 dB and 0.12 rad. Twice the way from the measured point to the centre is already in the geometry's path difference,
 * so only what goes beyond it is left in `lagM`, which may be negative.
 */
export function rearReflectionModel(
  strength: number,
  { radiusM, centreBehindM }: Cabinet,
  speedOfSoundMs: number,
): ReflectionModel {
  return {
    strength,
    cornerHz: (1.25 * speedOfSoundMs) / (2 * Math.PI * radiusM),
    lagM: 2.2 * radiusM - 2 * centreBehindM,
  };
}
