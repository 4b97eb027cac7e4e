import { cancellationInterval } from '../acoustics/cancellationInterval.js';
import { combDepthDb } from '../acoustics/combLevels.js';
import { cancellationsHz, pathDifferenceM, reinforcementsHz } from '../acoustics/imageSource.js';
import { planeGeometry } from '../acoustics/planeGeometry.js';
import type { Setup, Surface } from '../acoustics/setup.js';
import { speedOfSound } from '../acoustics/speedOfSound.js';
import type { FrequencyRange } from '../curve/curve.js';
import { type ReflectedPath, reflectedPath, strengthAt } from './reflectedPath.js';

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
  /** One for each of `cancellationsHz`. */
  readonly dips: readonly PredictedDip[];
}

/** Above this reflections lie so close together that single ones no longer matter; … */
const HIGHEST_HZ = 3000;
/** … but of every surface at least so many cancellations are told, as far as they can be heard. */
const LEAST_COUNT = 3;
const AUDIBLE_HZ = 20000;
/** Nearer than this (in metres of path) the surface is part of the speaker. */
const LEAST_DIFFERENCE_M = 1e-3;
const STRONGEST = 0.98;

/**
 * Cancellations and reinforcements of one surface (image source, Allen & Berkley 1979), and how deep they are expected
 * to be.
 *
 * @param path what is held of the reflection; the set-up's own expectation where absent
 */
export function predictSurface(
  setup: Setup,
  surface: Surface,
  path: ReflectedPath = reflectedPath(setup, surface),
): SurfacePrediction {
  const c = speedOfSound(setup.temperatureC);
  const differenceM = pathDifferenceM(planeGeometry(setup, surface));
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
  const measured = {
    r: setup.microphoneDistance,
    hs: surface.speakerDistance,
    hm: surface.microphoneDistance,
  };
  const tolerant = Object.values(measured).some(({ toleranceM }) => toleranceM > 0);
  const dips = dipsHz.map((frequencyHz, i): PredictedDip => {
    const expectedHz = (frequencyHz * differenceM) / path.differenceM;
    const { from, to } = cancellationInterval(measured, i + 1, c);
    return {
      frequencyHz,
      ...(tolerant && { interval: { fromHz: from, toHz: to } }),
      expectedHz,
      depthDb: combDepthDb(Math.min(STRONGEST, strengthAt(path, expectedHz))),
    };
  });
  return {
    ...base,
    cancellationsHz: dipsHz,
    reinforcementsHz: reinforcementsHz(differenceM, maxHz, c),
    dips,
  };
}
