import { roomModes } from '../acoustics/roomModes.js';
import type { Setup } from '../acoustics/setup.js';
import { speedOfSound } from '../acoustics/speedOfSound.js';
import { logGrid } from '../curve/logGrid.js';
import { InputError } from '../inputError.js';
import { roundDb, roundHz } from '../pipeline/rounding.js';
import type { PredictedPlacement, Prediction } from '../schema/prediction.js';
import { limitsWords } from './limitsWords.js';
import { type MicrophonePlace, type Move, movePlacement, surfaceNamed } from './movePlacement.js';
import { placementSteps } from './placementSteps.js';
import type { PredictionRequest } from './predictionRequest.js';
import { predictSurface } from './predictSurface.js';
import { roundM, roundSurface } from './roundPrediction.js';
import { setupWarnings } from './setupWarnings.js';
import { togetherDb } from './togetherDb.js';
import { unevennessDb } from './unevennessDb.js';

/** Modes above this overlap in any room that people live in (2000·√(T60/V), Kuttruff: 250 Hz at 0.4 s in 26 m³). */
const HIGHEST_MODE_HZ = 250;
const MOST_PLACEMENTS = 4000;
const CURVE_FROM_HZ = 40;
const CURVE_TO_HZ = 3000;

/**
 * What the geometry predicts, and what moving the speaker would do.
 *
 * @throws InputError for a surface that the set-up does not have, a span that is none, a place where nothing can stand
 */
export function predictionReport(request: PredictionRequest): Prediction {
  const { setup, title, microphone } = request;
  const base = {
    schemaVersion: 1 as const,
    title,
    temperatureC: setup.temperatureC,
    speedOfSoundMs: Math.round(speedOfSound(setup.temperatureC) * 100) / 100,
    microphoneDistanceM: roundM(setup.microphoneDistance.m),
    lengthUnit: setup.lengthUnit,
    levels: 'surfaces' as const,
    surfaces: setup.surfaces.map((surface) => roundSurface(predictSurface(setup, surface))),
    ...(setup.room && { roomModes: modesOf(setup) }),
    limits: limitsWords(request),
    warnings: setupWarnings(setup),
  };
  const frequencyHz = logGrid(CURVE_FROM_HZ, CURVE_TO_HZ, 24);
  const curves = {
    frequencyHz: Array.from(frequencyHz, roundHz),
    nowDb: Array.from(togetherDb(setup, frequencyHz), roundDb),
  };
  if (request.varied.length === 0) {
    return { ...base, ...(setup.surfaces.length > 0 && { curves }) };
  }
  const names = request.varied.map(({ surface }) => surface);
  const at = (moves: readonly Move[]) => placementOf(setup, moves, microphone, frequencyHz);
  const varied = placementsOf(request).map(at);
  return {
    ...base,
    microphone,
    variedSurfaces: names,
    now: at(movesToNow(setup, names)),
    varied,
    curves,
  };
}

/** Every combination of the distances of all varied surfaces, the last one changing fastest. */
export function placementsOf({ setup, varied }: PredictionRequest): Move[][] {
  const names = varied.map(({ surface }) => surfaceNamed(setup, surface).name);
  const twice = names.find((name, i) => names.indexOf(name) < i);
  if (twice !== undefined) throw new InputError(`"${twice}": found twice, expected each surface once`);
  let placements: Move[][] = [[]];
  for (const span of varied) {
    const steps = placementSteps(span, setup.lengthUnit);
    placements = placements.flatMap((moves) =>
      steps.map((speakerDistanceM) => [...moves, { surface: span.surface, speakerDistanceM }]),
    );
    if (placements.length > MOST_PLACEMENTS) {
      throw new InputError(
        `found ${placements.length} places of the speaker, expected at most ${MOST_PLACEMENTS}: give greater steps`,
      );
    }
  }
  return placements;
}

export function movesToNow(setup: Setup, names: readonly string[]): Move[] {
  return names.map((name) => ({
    surface: name,
    speakerDistanceM: surfaceNamed(setup, name).speakerDistance.m,
  }));
}

/** One place of the speaker, without a measurement. */
function placementOf(
  setup: Setup,
  moves: readonly Move[],
  microphone: MicrophonePlace,
  frequencyHz: Float64Array,
): PredictedPlacement {
  const moved = movePlacement(setup, moves, microphone);
  const levelDb = togetherDb(moved, frequencyHz);
  return {
    ...geometryOf(moved, moves),
    unevennessDb: roundDb(unevennessDb(frequencyHz, levelDb)),
    levelDb: Array.from(levelDb, roundDb),
  };
}

/** What the geometry says of the varied surfaces of a set-up that has been moved. */
export function geometryOf(moved: Setup, moves: readonly Move[]): PredictedPlacement {
  const surfaces = moves.map(({ surface }) =>
    roundSurface(predictSurface(moved, surfaceNamed(moved, surface))),
  );
  const first = surfaces[0]!;
  return {
    speakerDistanceM: first.speakerDistanceM,
    cancellationsHz: first.cancellationsHz,
    microphoneDistanceM: roundM(moved.microphoneDistance.m),
    surfaces,
  };
}

function modesOf({ room, temperatureC }: Setup) {
  return roomModes(room!, HIGHEST_MODE_HZ, speedOfSound(temperatureC)).map((mode) => ({
    ...mode,
    frequencyHz: roundHz(mode.frequencyHz),
  }));
}
