import { pathDifferenceM, reflectedPathM } from '../../acoustics/imageSource.js';
import { planeGeometry } from '../../acoustics/planeGeometry.js';
import type { Setup } from '../../acoustics/setup.js';
import { speedOfSound } from '../../acoustics/speedOfSound.js';
import { smoothOctave } from '../../curve/smoothOctave.js';
import { log10 } from '../../elementary/logarithm.js';
import { cos, sin } from '../../elementary/sine.js';
import { rightAnglePairs } from './rightAnglePairs.js';
import { cosineTowardImage, rearLagM } from './surfacePrior.js';

/** Ripples are the dips' business; what is left after this is what the walls do to the bass as a whole. */
const SMOOTHING_OCTAVES = 1;
const USUAL_BAFFLE_M = 0.18;

/**
 * What the surfaces of a set-up add to the level of the direct sound, smoothed over an octave, in dB: at low frequency
 * all images are in phase with the speaker and lift the bass (image source, Allen & Berkley 1979), up to two in a row.
 * Toward the rear the cabinet shades the sound as a sphere does.
 *
 * @param frequencyHz ascending, n points
 * @param factor pressure reflection factor that all surfaces are taken to have
 * @param withinM images that come later than this, in metres of path, are not in the measurement
 */
export function wallLiftDb(
  setup: Setup,
  frequencyHz: Float64Array,
  factor: number,
  withinM = Number.POSITIVE_INFINITY,
): Float64Array {
  const c = speedOfSound(setup.temperatureC);
  const r = setup.microphoneDistance.m;
  const radiusM = (setup.baffleWidthM ?? USUAL_BAFFLE_M) / 2;
  const paths = setup.surfaces.map((surface) => {
    const plane = planeGeometry(setup, surface);
    const turned = (1 - cosineTowardImage(plane)) / 2;
    return {
      plane,
      spread: r / reflectedPathM(plane),
      laterM: pathDifferenceM(plane) + rearLagM(setup, surface),
      turned,
    };
  });
  const images = [
    ...paths.map(({ spread, laterM, turned }) => ({ strength: factor * spread, laterM, turned })),
    ...rightAnglePairs(setup).map((pair) => {
      const [first, second] = [paths[pair.first]!, paths[pair.second]!];
      const pathM = Math.sqrt(
        r * r + 4 * first.plane.hs * first.plane.hm + 4 * second.plane.hs * second.plane.hm,
      );
      return {
        strength: (factor * factor * r) / pathM,
        laterM: pathM - r,
        turned: Math.max(first.turned, second.turned),
      };
    }),
  ].filter(({ laterM }) => laterM < withinM);
  const levelDb = frequencyHz.map((f) => {
    const k = (2 * Math.PI * f) / c;
    let re = 1;
    let im = 0;
    for (const { strength, laterM, turned } of images) {
      // First-order, at ka = 1.25 for straight behind (`rearReflectionModel`).
      const size = strength / Math.sqrt(1 + turned * ((k * radiusM) / 1.25) ** 2);
      re += size * cos(k * laterM);
      im -= size * sin(k * laterM);
    }
    return 10 * log10(Math.max(re * re + im * im, 1e-3));
  });
  return smoothOctave({ frequencyHz, levelDb }, SMOOTHING_OCTAVES).levelDb;
}
