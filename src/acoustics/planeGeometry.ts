import type { PlaneGeometry } from './imageSource.js';
import type { Setup, Surface } from './setup.js';

/** The geometry of one of a set-up's surfaces. */
export function planeGeometry(setup: Setup, surface: Surface): PlaneGeometry {
  return {
    r: setup.microphoneDistance.m,
    hs: surface.speakerDistance.m,
    hm: surface.microphoneDistance.m,
  };
}
