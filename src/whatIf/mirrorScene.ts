import type { Setup } from '../acoustics/setup.js';
import { speedOfSound } from '../acoustics/speedOfSound.js';
import { cabinetRadiusM, centreBehindM, expectedMirrors, fittedPlane, type MirrorFit } from './fitMirrors.js';
import { type MirrorGrid, type MirrorPlane, mirrorGrid, mirrorLevelDb, radiatedPath } from './mirrorModel.js';

const LEAST_M = 0.01;

/** A speaker among the surfaces of its set-up, as the mirror model has it. */
export interface MirrorScene {
  readonly setup: Setup;
  readonly grid: MirrorGrid;
  readonly fit: MirrorFit;
}

/** What is expected of a set-up before anything was measured. */
export function expectedScene(setup: Setup, frequencyHz: Float64Array): MirrorScene {
  const grid = mirrorGrid(frequencyHz, speedOfSound(setup.temperatureC), cabinetRadiusM(setup));
  return { setup, grid, fit: expectedMirrors(setup) };
}

/**
 * The surfaces as the model has them with speaker and microphone at `moved`: they stay where the fit shows them to be
 * (not where the tape has them), and the distances change by as much as the set-up's do.
 */
export function planesAt({ setup, fit }: MirrorScene, moved: Setup): MirrorPlane[] {
  return setup.surfaces.map((surface, k) => {
    const plane = fittedPlane(setup, surface, k, fit.parameters);
    const after = moved.surfaces[k]!;
    return {
      ...plane,
      hs: Math.max(LEAST_M, plane.hs + after.speakerDistance.m - surface.speakerDistance.m),
      hm: Math.max(LEAST_M, plane.hm + after.microphoneDistance.m - surface.microphoneDistance.m),
    };
  });
}

/** What all surfaces do to the direct sound with speaker and microphone at `moved`, in dB over it. */
export function mirroredDb(scene: MirrorScene, moved: Setup = scene.setup): Float64Array {
  const { grid, fit, setup } = scene;
  const planes = planesAt(scene, moved);
  const behindM = centreBehindM(setup, fit.parameters);
  const radiated = fit.meetings.map((met) =>
    radiatedPath(
      grid,
      moved.microphoneDistance.m,
      behindM,
      met.map((k) => planes[k]!),
    ),
  );
  return mirrorLevelDb(grid, planes, fit.meetings, radiated, fit.latePower);
}
