import { roomModes } from '../acoustics/roomModes.js';
import type { Setup } from '../acoustics/setup.js';
import { setupWarnings } from '../acoustics/setupWarnings.js';
import { speedOfSound } from '../acoustics/speedOfSound.js';
import { logGrid } from '../curve/logGrid.js';
import { resampleToGrid } from '../curve/resampleToGrid.js';
import { smoothOctave } from '../curve/smoothOctave.js';
import { roundDb, roundHz } from '../pipeline/rounding.js';
import type { PredictedPlacement, Prediction } from '../schema/prediction.js';
import { limitsWords } from './limitsWords.js';
import { measuredPrediction } from './measuredPrediction.js';
import { expectedScene, mirroredDb } from './mirrorScene.js';
import { type Move, movePlacement } from './movePlacement.js';
import { geometryOf, movesToNow, placementsOf } from './placements.js';
import type { PredictionRequest } from './predictionRequest.js';
import { dipGridHz, predictSurface } from './predictSurface.js';
import { roundM, roundSurface } from './roundPrediction.js';
import { unevennessDb } from './unevennessDb.js';

/** Modes above this overlap in any room that people live in (2000·√(T60/V), Kuttruff: 250 Hz at 0.4 s in 26 m³). */
const HIGHEST_MODE_HZ = 250;
const CURVE_FROM_HZ = 40;
const CURVE_TO_HZ = 3000;
const SMOOTHING_OCTAVES = 1 / 12;
/** Curves of more places than this are left out of the result. */
export const MOST_CURVES = 120;

/**
 * What the geometry predicts, and what moving the speaker would do.
 *
 * @throws InputError for a surface that the set-up does not have, a span that is none, a place where nothing can stand
 */
export function predictionReport(request: PredictionRequest): Prediction {
  const { setup, title, microphone } = request;
  const wideHz = dipGridHz();
  const expected = expectedScene(setup, wideHz);
  const base = {
    schemaVersion: 1 as const,
    title,
    temperatureC: setup.temperatureC,
    speedOfSoundMs: Math.round(speedOfSound(setup.temperatureC) * 100) / 100,
    microphoneDistanceM: roundM(setup.microphoneDistance.m),
    lengthUnit: setup.lengthUnit,
    levels: 'surfaces' as const,
    surfaces: setup.surfaces.map((_, k) => roundSurface(predictSurface(setup, k, expected))),
    ...(setup.room && { roomModes: modesOf(setup) }),
    limits: limitsWords(request),
    warnings: setupWarnings(setup),
  };
  const frequencyHz = logGrid(CURVE_FROM_HZ, CURVE_TO_HZ, 24);
  if (request.measured) {
    const { warnings, ...measured } = measuredPrediction(request, request.measured, frequencyHz);
    return {
      ...base,
      levels: 'measured',
      ...(request.varied.length > 0 && { microphone, variedSurfaces: namesOf(request) }),
      ...measured,
      warnings: [...base.warnings, ...warnings],
    };
  }
  const together = expectedScene(setup, logGrid(CURVE_FROM_HZ / 1.1, CURVE_TO_HZ * 1.1, 96));
  const shown = (moved: Setup) => {
    const fine = { frequencyHz: together.grid.frequencyHz, levelDb: mirroredDb(together, moved) };
    return resampleToGrid(smoothOctave(fine, SMOOTHING_OCTAVES), frequencyHz).levelDb;
  };
  const curves = {
    frequencyHz: Array.from(frequencyHz, roundHz),
    nowDb: Array.from(shown(setup), roundDb),
  };
  if (request.varied.length === 0) {
    return { ...base, ...(setup.surfaces.length > 0 && { curves }) };
  }
  const names = namesOf(request);
  const { possible: places, warnings } = placementsOf(request);
  const at = (moves: readonly Move[]): PredictedPlacement => {
    const moved = movePlacement(setup, moves, microphone);
    const levelDb = shown(moved);
    return {
      ...geometryOf(expected, moved, moves),
      unevennessDb: roundDb(unevennessDb(frequencyHz, levelDb)),
      ...(places.length <= MOST_CURVES && { levelDb: Array.from(levelDb, roundDb) }),
    };
  };
  const varied = places.map(at);
  return {
    ...base,
    microphone,
    variedSurfaces: names,
    now: at(movesToNow(setup, names)),
    varied,
    curves,
    warnings: [...base.warnings, ...warnings],
  };
}

const namesOf = ({ varied }: PredictionRequest) => varied.map(({ surface }) => surface);

function modesOf({ room, temperatureC }: Setup) {
  return roomModes(room!, HIGHEST_MODE_HZ, speedOfSound(temperatureC)).map((mode) => ({
    ...mode,
    frequencyHz: roundHz(mode.frequencyHz),
  }));
}
