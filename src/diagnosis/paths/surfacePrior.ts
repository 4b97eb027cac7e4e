import { pathDifferenceInterval } from '../../acoustics/cancellationInterval.js';
import { pathDifferenceM, reflectedPathM } from '../../acoustics/imageSource.js';
import { planeGeometry } from '../../acoustics/planeGeometry.js';
import type { Setup, Surface } from '../../acoustics/setup.js';
import { spherePressure } from '../../acoustics/sphereBaffle.js';
import { acos } from '../../elementary/arctangent.js';
import { log } from '../../elementary/logarithm.js';
import { hypot } from '../../elementary/power.js';
import { type PathPrior, strengthPrecision } from './fitPaths.js';
import { KNOTS_HZ } from './pathModel.js';

/** Pressure reflection factor of what stands in rooms, from curtain to concrete; common practice, no published source. */
const REFLECTION = 0.75;
const COMMON_SPREAD = 0.45;
const SINGLE_SPREAD = 0.35;
/** What a tape measure and a guess at the acoustic centre leave open when no tolerance was given. */
const TAPE_ERROR = 0.035;
const USUAL_BAFFLE_M = 0.18;
/**
 * Sound toward the rear starts late: it bends around the box, and the acoustic centre lies in front of the baffle. In
 * units of half the baffle's width, for straight behind; a sphere gives 0 to 1 by where its centre is taken to be.
 */
const LAG = 0.4;
const LAG_SPREAD = 0.5;

/**
 * What a set-up says of one surface before the curve is looked at: path difference with its tolerance, and how much
 * of what the speaker radiates toward the mirror image comes back, the speaker taken as a sphere as wide as its baffle.
 */
export function surfacePrior(setup: Setup, surface: Surface, speedOfSoundMs: number): PathPrior {
  const plane = planeGeometry(setup, surface);
  const differenceM = pathDifferenceM(plane);
  const pathM = reflectedPathM(plane);
  const radiusM = (setup.baffleWidthM ?? USUAL_BAFFLE_M) / 2;
  const cosTheta = cosineTowardImage(plane);
  const lagM = rearLagM(setup, surface);
  const lagSpreadM = (LAG_SPREAD / LAG) * lagM + 0.005;

  const interval = pathDifferenceInterval({
    r: setup.microphoneDistance,
    hs: surface.speakerDistance,
    hm: surface.microphoneDistance,
  });
  const tolerance = (interval.to - interval.from) / 2 / differenceM;
  const theta = acos(Math.max(-1, Math.min(1, cosTheta)));
  const lnStrength = KNOTS_HZ.map((f) => {
    const ka = (2 * Math.PI * f * radiusM) / speedOfSoundMs;
    const toward = spherePressure(ka, theta);
    const ahead = spherePressure(ka, 0);
    const ratio = hypot(toward.re, toward.im) / hypot(ahead.re, ahead.im);
    return log(Math.max(0.03, REFLECTION * (plane.r / pathM) * ratio));
  });
  return {
    lnDifference: log(differenceM + lagM),
    lnDifferenceScale: hypot(tolerance, TAPE_ERROR, lagSpreadM / differenceM),
    lnStrength,
    strengthPrecision: strengthPrecision(KNOTS_HZ.length, COMMON_SPREAD, SINGLE_SPREAD),
  };
}

/** How much later than a tape measure says the sound toward a surface is expected to start, as a length. */
export function rearLagM(setup: Setup, surface: Surface): number {
  const turned = (1 - cosineTowardImage(planeGeometry(setup, surface))) / 2;
  return (LAG * turned * (setup.baffleWidthM ?? USUAL_BAFFLE_M)) / 2;
}

/** Cosine of the angle, seen from the speaker, between the microphone and the microphone's mirror image. */
export function cosineTowardImage({ r, hs, hm }: { r: number; hs: number; hm: number }): number {
  const alongSquared = Math.max(0, r * r - (hm - hs) ** 2);
  return (alongSquared - (hm - hs) * (hm + hs)) / (r * Math.sqrt(r * r + 4 * hs * hm));
}
