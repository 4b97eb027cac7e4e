import { log } from '../../elementary/logarithm.js';
import { surfacePrior } from '../paths/surfacePrior.js';
import type { Scene, StayedReflection } from '../scene/scene.js';

const WITHIN_DEVIATIONS = 2;
/** A tape is held to the middle of the front; the way by a near surface is as much (in ln) another from one driver or the other. */
const DRIVERS_APART = 0.2;

/** The surface of the set-up that a reflection comes from which stayed when the speaker was moved. */
export function stayedSurface(
  { differenceM }: StayedReflection,
  { input: { setup }, speedOfSoundMs }: Scene,
): string | undefined {
  if (!setup) return undefined;
  const near = setup.surfaces
    .map((surface) => {
      const { lnDifference, lnDifferenceScale } = surfacePrior(setup, surface, speedOfSoundMs);
      const off = Math.abs(log(differenceM) - lnDifference);
      return { name: surface.name, off, within: WITHIN_DEVIATIONS * lnDifferenceScale + DRIVERS_APART };
    })
    .filter(({ off, within }) => off <= within)
    .sort((a, b) => a.off - b.off);
  return near[0]?.name;
}
