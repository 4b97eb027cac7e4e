import type { Setup } from '../acoustics/setup.js';
import { InputError } from '../inputError.js';
import type { PredictedPlacement } from '../schema/prediction.js';
import { formatLength } from '../units/formatLength.js';
import type { Warning } from '../warning.js';
import type { MirrorScene } from './mirrorScene.js';
import { type Move, movePlacement, surfaceNamed } from './movePlacement.js';
import { placementSteps } from './placementSteps.js';
import type { PredictionRequest } from './predictionRequest.js';
import { predictSurface } from './predictSurface.js';
import { roundM, roundSurface } from './roundPrediction.js';

const MOST_PLACEMENTS = 4000;
/** A span that reaches farther is more likely meant in another unit. */
const FAR_M = 10;

export interface Placements {
  readonly possible: readonly (readonly Move[])[];
  readonly warnings: readonly Warning[];
}

/**
 * Every combination of the distances of all varied surfaces, the last one changing fastest, as far as speaker and
 * microphone can stand there.
 *
 * @throws InputError where none is possible, or there are too many
 */
export function placementsOf(request: PredictionRequest): Placements {
  const all = combinations(request);
  let reason: InputError | undefined;
  const possible = all.filter((moves) => {
    const refusal = refusalOf(request, moves);
    reason ??= refusal;
    return !refusal;
  });
  const far = farSpans(request);
  if (!reason) return { possible, warnings: far };
  if (possible.length === 0) throw reason;
  return {
    possible,
    warnings: [
      ...far,
      {
        code: 'places-left-out',
        message: `${all.length - possible.length} of ${all.length} places were left out, the first of them: ${reason.message}.`,
      },
    ],
  };
}

function farSpans({ setup, varied }: PredictionRequest): Warning[] {
  return varied
    .filter(({ toM }) => toM > FAR_M)
    .map(({ surface, toM }) => ({
      code: 'span-far',
      message: `The speaker is moved as far as ${formatLength(toM, setup.lengthUnit)} from "${surface}": give lengths with their unit if less was meant; one without a unit is in metres.`,
    }));
}

/** Why speaker and microphone cannot stand there. */
export function refusalOf(
  { setup, microphone }: PredictionRequest,
  moves: readonly Move[],
): InputError | undefined {
  try {
    movePlacement(setup, moves, microphone);
    return undefined;
  } catch (error) {
    if (error instanceof InputError) return error;
    throw error;
  }
}

function combinations({ setup, varied }: PredictionRequest): Move[][] {
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

/**
 * What is expected of the varied surfaces with the speaker moved.
 *
 * @param scene what is held of the surfaces, where the speaker stands now
 */
export function geometryOf(scene: MirrorScene, moved: Setup, moves: readonly Move[]): PredictedPlacement {
  const surfaces = moves.map(({ surface }) =>
    roundSurface(
      predictSurface(
        moved,
        moved.surfaces.findIndex(({ name }) => name === surface),
        scene,
      ),
    ),
  );
  const first = surfaces[0]!;
  return {
    speakerDistanceM: first.speakerDistanceM,
    cancellationsHz: first.cancellationsHz,
    microphoneDistanceM: roundM(moved.microphoneDistance.m),
    surfaces,
  };
}
