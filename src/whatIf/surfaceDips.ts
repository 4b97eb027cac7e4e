import { combDepthDb } from '../acoustics/combLevels.js';
import type { Setup } from '../acoustics/setup.js';
import { atan2 } from '../elementary/arctangent.js';
import { hypot } from '../elementary/power.js';
import { centreBehindM } from './fitMirrors.js';
import { pathGeometry, radiatedPath, reflectionFactor } from './mirrorModel.js';
import { type MirrorScene, planesAt } from './mirrorScene.js';

/** A cancellation as the model expects it. */
export interface ExpectedDip {
  readonly frequencyHz: number;
  /** Strength of the reflection there over the direct sound's. */
  readonly strength: number;
  /** How far under the tops beside it, were this the only surface; in dB. */
  readonly depthDb: number;
}

/** No comb is deeper than a measurement shows. */
const STRONGEST = 0.96;

/**
 * The first cancellations of one surface, all that shifts them included: what the sound lags behind on its way around
 * the cabinet, and what the surface does to its phase.
 *
 * @param k which of the set-up's surfaces
 * @param count how many are wanted; fewer where the grid ends
 */
export function surfaceDips(scene: MirrorScene, moved: Setup, k: number, count: number): ExpectedDip[] {
  const { grid, fit, setup } = scene;
  const { frequencyHz } = grid;
  const plane = planesAt(scene, moved)[k]!;
  const behindM = centreBehindM(setup, fit.parameters);
  const directM = moved.microphoneDistance.m;
  const { re, im } = radiatedPath(grid, directM, behindM, [plane]);
  const { pathM, r } = pathGeometry(grid.radiusM, directM, behindM, [plane]);
  const delayS = (pathM - r) / grid.speedOfSoundMs;

  const dips: ExpectedDip[] = [];
  let before: { hz: number; lagRad: number; strength: number; own: number } | undefined;
  for (let i = 0; i < frequencyHz.length && dips.length < count; i++) {
    const hz = frequencyHz[i]!;
    const factor = reflectionFactor(plane, hz);
    const a = re[i]! * factor.re - im[i]! * factor.im;
    const b = re[i]! * factor.im + im[i]! * factor.re;
    const travelRad = 2 * Math.PI * hz * delayS;
    // What is beyond the travel time changes slowly, so it can be followed from point to point.
    const wrapped = -atan2(b, a) - travelRad;
    const near = before?.own ?? 0;
    const own = wrapped - 2 * Math.PI * Math.round((wrapped - near) / (2 * Math.PI));
    const here = { hz, lagRad: travelRad + own, strength: hypot(a, b), own };
    while (before && dips.length < count) {
      const wanted = (2 * dips.length + 1) * Math.PI;
      if (!(here.lagRad >= wanted)) break;
      const share = Math.max(0, (wanted - before.lagRad) / Math.max(1e-9, here.lagRad - before.lagRad));
      const strength = before.strength + share * (here.strength - before.strength);
      dips.push({
        frequencyHz: before.hz + share * (here.hz - before.hz),
        strength,
        depthDb: combDepthDb(Math.min(STRONGEST, strength)),
      });
    }
    before = here;
  }
  return dips;
}
