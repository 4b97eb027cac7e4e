import { cancellationInterval } from '../acoustics/cancellationInterval.js';
import { cancellationsHz, pathDifferenceM, reinforcementsHz } from '../acoustics/imageSource.js';
import { planeGeometry } from '../acoustics/planeGeometry.js';
import type { Setup } from '../acoustics/setup.js';
import { speedOfSound } from '../acoustics/speedOfSound.js';
import type { FrequencyRange } from '../curve/curve.js';
import { logGrid } from '../curve/logGrid.js';
import { expectedScene, type MirrorScene } from './mirrorScene.js';
import { surfaceDips } from './surfaceDips.js';

/** One cancellation of one surface. */
export interface PredictedDip {
  /** By the geometry alone: (2n−1)·c/(2·Δ). */
  readonly frequencyHz: number;
  /** Where the tolerances of the distances let it lie; absent where none were given. */
  readonly interval?: FrequencyRange;
  /** The same with what the sound toward the surface is expected to lag behind. */
  readonly expectedHz: number;
  /** How far it is expected to lie under the tops beside it, were this the only surface; in dB, ≥ 0. */
  readonly depthDb: number;
}

/** What the geometry says of one surface. */
export interface SurfacePrediction {
  readonly name: string;
  readonly speakerDistanceM: number;
  readonly microphoneDistanceM: number;
  readonly pathDifferenceM: number;
  readonly cancellationsHz: readonly number[];
  readonly reinforcementsHz: readonly number[];
  /** One for each of `cancellationsHz`, as far as they can be heard. */
  readonly dips: readonly PredictedDip[];
}

/** Above this reflections lie so close together that single ones no longer matter; … */
const HIGHEST_HZ = 3000;
/** … but of every surface at least so many cancellations are told, as far as they can be heard. */
const LEAST_COUNT = 3;
const AUDIBLE_HZ = 20000;
/** Nearer than this (in metres of path) the surface is part of the speaker. */
const LEAST_DIFFERENCE_M = 1e-3;

/** Grid on which cancellations are looked for. */
export function dipGridHz(): Float64Array {
  return logGrid(20, AUDIBLE_HZ, 24);
}

/**
 * Cancellations and reinforcements of one surface (image source, Allen & Berkley 1979), and how deep they are expected
 * to be.
 *
 * @param moved where speaker and microphone stand
 * @param k which of its surfaces
 * @param scene what is held of the surfaces, from the set-up alone or from a measurement at another place
 */
export function predictSurface(
  moved: Setup,
  k: number,
  scene: MirrorScene = expectedScene(moved, dipGridHz()),
): SurfacePrediction {
  const surface = moved.surfaces[k]!;
  const c = speedOfSound(moved.temperatureC);
  const differenceM = pathDifferenceM(planeGeometry(moved, surface));
  const base = {
    name: surface.name,
    speakerDistanceM: surface.speakerDistance.m,
    microphoneDistanceM: surface.microphoneDistance.m,
    pathDifferenceM: differenceM,
  };
  if (differenceM < LEAST_DIFFERENCE_M) {
    return { ...base, cancellationsHz: [], reinforcementsHz: [], dips: [] };
  }
  const firstHz = c / (2 * differenceM);
  const maxHz = Math.min(AUDIBLE_HZ, Math.max(HIGHEST_HZ, (2 * LEAST_COUNT - 1) * firstHz * 1.001));
  const dipsHz = cancellationsHz(differenceM, maxHz, c);
  const expected = surfaceDips(scene, moved, k, dipsHz.length);
  const measured = {
    r: moved.microphoneDistance,
    hs: surface.speakerDistance,
    hm: surface.microphoneDistance,
  };
  const tolerant = Object.values(measured).some(({ toleranceM }) => toleranceM > 0);
  const dips = dipsHz.flatMap((frequencyHz, i): PredictedDip[] => {
    const dip = expected[i];
    if (!dip) return [];
    const { from, to } = cancellationInterval(measured, i + 1, c);
    return [
      {
        frequencyHz,
        ...(tolerant && { interval: { fromHz: from, toHz: to } }),
        expectedHz: dip.frequencyHz,
        depthDb: dip.depthDb,
      },
    ];
  });
  return {
    ...base,
    cancellationsHz: dipsHz,
    reinforcementsHz: reinforcementsHz(differenceM, maxHz, c),
    dips,
  };
}
