import type { Setup, Surface } from '../acoustics/setup.js';
import { speedOfSound } from '../acoustics/speedOfSound.js';
import { pathStrength } from '../diagnosis/fittedSurface.js';
import { surfacePrior } from '../diagnosis/surfacePrior.js';

/** Sound by way of one surface, relative to the direct sound, as the path model of the diagnosis takes it. */
export interface ReflectedPath {
  /** How much longer the way is than the direct one, what the sound toward the surface lags behind included, in metres. */
  readonly differenceM: number;
  /** ln of the strength at the knots of the path model. */
  readonly lnStrength: readonly number[];
}

/**
 * What is expected of a surface before anything was measured: a usual reflection factor, the spreading over the longer
 * way, and what a sphere as wide as the baffle radiates toward the mirror image over what it radiates toward the
 * microphone, with its lag (`diagnosis/surfacePrior.ts`, where the factor and the lag are stated).
 */
export function reflectedPath(setup: Setup, surface: Surface): ReflectedPath {
  const { lnDifference, lnStrength } = surfacePrior(setup, surface, speedOfSound(setup.temperatureC));
  return { differenceM: Math.exp(lnDifference), lnStrength };
}

/** Strength relative to the direct sound at one frequency. */
export function strengthAt({ differenceM, lnStrength }: ReflectedPath, frequencyHz: number): number {
  return pathStrength([Math.log(differenceM), ...lnStrength], 0, frequencyHz);
}
