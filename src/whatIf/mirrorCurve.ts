import type { Setup } from '../acoustics/setup.js';
import { centreBehindM, fittedPlane, type MirrorFit } from './fitMirrors.js';
import { type MirrorGrid, mirrorLevelDb, radiatedPath } from './mirrorModel.js';

const LEAST_M = 0.01;

/** What the fitted surfaces do to the direct sound with speaker and microphone at `moved`, in dB over it. */
export function mirroredDb(
  grid: MirrorGrid,
  fit: MirrorFit,
  setup: Setup,
  moved: Setup = setup,
): Float64Array {
  const { parameters, meetings } = fit;
  const planes = setup.surfaces.map((surface, k) => {
    const plane = fittedPlane(setup, surface, k, parameters);
    const after = moved.surfaces[k]!;
    return {
      ...plane,
      hs: Math.max(LEAST_M, plane.hs + after.speakerDistance.m - surface.speakerDistance.m),
      hm: Math.max(LEAST_M, plane.hm + after.microphoneDistance.m - surface.microphoneDistance.m),
    };
  });
  const behindM = centreBehindM(setup, parameters);
  const radiated = meetings.map((met) =>
    radiatedPath(
      grid,
      moved.microphoneDistance.m,
      behindM,
      met.map((k) => planes[k]!),
    ),
  );
  return mirrorLevelDb(grid, planes, meetings, radiated, fit.latePower);
}
