import type { Setup } from '../../src/acoustics/setup.js';
import { expectedScene, type MirrorScene } from '../../src/whatIf/mirrorScene.js';
import { dipGridHz, predictSurface, type SurfacePrediction } from '../../src/whatIf/predictSurface.js';

const GRID_HZ = dipGridHz();

/** What the distances of a set-up alone let expect of its surfaces. */
export function sceneOf(setup: Setup): MirrorScene {
  return expectedScene(setup, GRID_HZ);
}

/**
 * Where every surface of a set-up cancels, in its order.
 *
 * @param scene what is held of the surfaces: those of `setup`, with the speaker there or at another place
 */
export function predictSurfaces(setup: Setup, scene: MirrorScene = sceneOf(setup)): SurfacePrediction[] {
  return setup.surfaces.map((_, k) => predictSurface(setup, k, scene));
}
