import { type PlaneGeometry, speakerDistanceForM } from '../../acoustics/imageSource.js';
import { planeGeometry } from '../../acoustics/planeGeometry.js';
import type { Setup, Surface } from '../../acoustics/setup.js';
import { solveLower } from '../../elementary/cholesky.js';
import { exp } from '../../elementary/exponential.js';
import { log } from '../../elementary/logarithm.js';
import { hypot } from '../../elementary/power.js';
import { KNOTS_HZ, PARAMETERS_PER_PATH } from '../paths/pathModel.js';
import { cosineTowardImage, rearLagM } from '../paths/surfacePrior.js';
import type { Explanation } from './explainByPaths.js';

/** What the fit says of a surface: where it is and how strongly it reflects. */
export interface FittedSurface {
  readonly name: string;
  /** The speaker's distance, as the set-up has it and as it fits the curve, with one standard deviation. */
  readonly saidM: number;
  readonly distanceM: number;
  readonly deviationM: number;
  /** Path difference that fits, the lag of sound toward the rear in it. */
  readonly differenceM: number;
}

/**
 * How well it is known from where in the box sound starts. With it two fits in three keep what they promise in simulated
 * rooms; the curve alone would claim a few millimetres.
 */
const CENTRE_M = 0.012;
/** Share of the direct distance from which on the microphone is taken to be straight in front of a wall behind. */
const STRAIGHT = 0.7;
/** cos of the angle toward the image from which on a surface counts as behind the speaker. */
const BEHIND = -0.5;

/** The surface that path `path` of an explanation stands for; nothing for a path without a name, or where no distance fits it. */
export function fittedSurface(
  explanation: Explanation,
  path: number,
  setup: Setup,
): FittedSurface | undefined {
  const name = explanation.expected[path]?.name;
  const surface = setup.surfaces.find((s) => s.name === name);
  if (!surface) return undefined;
  const { parameters, curvature } = explanation.fit;
  const base = path * PARAMETERS_PER_PATH;
  const unit = new Float64Array(parameters.length);
  unit[base] = 1;
  const lnDeviation = Math.sqrt(solveLower(curvature, unit).reduce((sum, v) => sum + v * v, 0));
  const differenceM = exp(parameters[base]!);
  const at = (m: number) => distanceFor(Math.max(0.01, m - rearLagM(setup, surface)), setup, surface);
  const distanceM = at(differenceM);
  // A plane that speaker or microphone touches: by no factor of the two distances does sound go a longer way.
  if (!Number.isFinite(distanceM)) return undefined;
  return {
    name: surface.name,
    saidM: surface.speakerDistance.m,
    distanceM,
    deviationM: hypot(at(differenceM * exp(lnDeviation)) - distanceM, rearLagM(setup, surface) / 2, CENTRE_M),
    differenceM,
  };
}

/**
 * The speaker's distance that gives a path difference. Behind the speaker the microphone lies as much farther as it
 * lies in front; beside it (side wall, desk, floor) both distances are taken to be off by the same factor.
 */
export function distanceFor(differenceM: number, setup: Setup, surface: Surface): number {
  const plane = planeGeometry(setup, surface);
  if (isBehind(plane)) {
    const ahead = plane.hm - plane.hs;
    const followed = ahead > STRAIGHT * plane.r ? plane.r : ahead;
    return speakerDistanceForM(differenceM, { ...plane, hm: plane.hs + followed }, 1);
  }
  const product = (differenceM * (differenceM + 2 * plane.r)) / 4;
  return plane.hs * Math.sqrt(product / (plane.hs * plane.hm));
}

export function isBehind(plane: PlaneGeometry): boolean {
  return cosineTowardImage(plane) < BEHIND;
}

/** Strength of a path at a frequency, relative to the direct sound. */
export function pathStrength(parameters: ArrayLike<number>, path: number, frequencyHz: number): number {
  const base = path * PARAMETERS_PER_PATH + 1;
  let k = 0;
  while (k < KNOTS_HZ.length - 2 && frequencyHz > KNOTS_HZ[k + 1]!) k++;
  const t = log(frequencyHz / KNOTS_HZ[k]!) / log(KNOTS_HZ[k + 1]! / KNOTS_HZ[k]!);
  const share = Math.min(1, Math.max(0, t));
  return exp(parameters[base + k]! + share * (parameters[base + k + 1]! - parameters[base + k]!));
}
