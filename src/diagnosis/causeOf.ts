import { cancellationsHz, pathDifferenceM, reinforcementsHz } from '../acoustics/imageSource.js';
import { planeGeometry } from '../acoustics/planeGeometry.js';
import { type RoomMode, roomModes } from '../acoustics/roomModes.js';
import { schroederFrequencyHz } from '../acoustics/schroederFrequency.js';
import { exp } from '../elementary/exponential.js';
import { log2 } from '../elementary/logarithm.js';
import { cos } from '../elementary/sine.js';
import type { Feature } from './detectFeatures.js';
import type { Cause } from './finding.js';
import { pathStrength } from './fittedSurface.js';
import { PARAMETERS_PER_PATH } from './pathModel.js';
import type { ReflectionShare } from './reflectionEvidence.js';
import type { Scene } from './scene.js';

/** A dB that a dip would lose without a path counts as much as this share of the direct sound that it cancels. */
const BLAME_PER_DB = 0.05;
/** Less than this makes no dip. */
const LEAST_BLAME = 0.05;
const FAR_MORE = 4;
/** A room mode this near (relative) may be the cause. */
const MODE_SHARE = 0.03;
/** Reverberation time of a furnished room; common practice, no published source. */
const REVERBERATION_S = 0.4;
const PREDICTED_TO_HZ = 20000;
/** A prediction farther away says nothing of the feature: below its first cancellation every reflection adds. */
const PREDICTED_WITHIN_OCTAVES = 1;

/** The path that makes most of a feature: index, and the name that the set-up has for it, if any. */
export interface GuiltyPath {
  readonly path: number;
  readonly lossDb: number;
  readonly surface?: string;
}

/**
 * The path that is most to blame. Where many add up, what a dip would lose without one of them depends on all the
 * others, so what counts first is how much of the direct sound a path cancels (or adds to, at a peak) there. A surface
 * of the set-up is named before a path that only the curve shows, unless that one does far more.
 */
export function guiltyPath(feature: Feature, share: ReflectionShare, scene: Scene): GuiltyPath | undefined {
  const { reflected, speedOfSoundMs } = scene;
  if (!reflected) return undefined;
  const { fit, expected } = reflected.explanation;
  const sign = feature.kind === 'dip' ? -1 : 1;
  const blamed = share.losses
    .map((lossDb, path) => {
      const strength = pathStrength(fit.parameters, path, feature.frequencyHz);
      const differenceM = exp(fit.parameters[path * PARAMETERS_PER_PATH]!);
      const turn = (2 * Math.PI * feature.frequencyHz * differenceM) / speedOfSoundMs;
      return { path, lossDb, blame: sign * strength * cos(turn) + BLAME_PER_DB * lossDb };
    })
    .filter(({ blame }) => blame >= LEAST_BLAME)
    .sort((a, b) => b.blame - a.blame);
  const named = blamed.find(({ path }) => expected[path]?.name !== undefined);
  const most = blamed[0];
  const guilty = named && most && named.blame * FAR_MORE >= most.blame ? named : most;
  const surface = guilty && expected[guilty.path]?.name;
  return guilty && { path: guilty.path, lossDb: guilty.lossDb, ...(surface !== undefined && { surface }) };
}

/** A reflection as cause, with the frequency that the bare geometry (or the fitted length) predicts nearest to it, if near. */
export function reflectionCause(feature: Feature, guilty: GuiltyPath | undefined, scene: Scene): Cause {
  const { setup } = scene.input;
  const surface = setup?.surfaces.find((s) => s.name === guilty?.surface);
  const parameters = scene.reflected?.explanation.fit.parameters;
  const differenceM = surface
    ? pathDifferenceM(planeGeometry(setup!, surface))
    : guilty && parameters && exp(parameters[guilty.path * PARAMETERS_PER_PATH]!);
  if (differenceM === undefined) {
    const mode = nearestMode(feature, scene);
    return mode ? { type: 'roomMode', predictedHz: mode.frequencyHz } : { type: 'reflection' };
  }
  const series = feature.kind === 'dip' ? cancellationsHz : reinforcementsHz;
  const octavesOff = (hz: number) => Math.abs(log2(hz / feature.frequencyHz));
  const predicted = series(differenceM, PREDICTED_TO_HZ, scene.speedOfSoundMs)
    .filter((hz) => octavesOff(hz) < PREDICTED_WITHIN_OCTAVES)
    .sort((a, b) => octavesOff(a) - octavesOff(b))[0];
  return {
    type: 'reflection',
    ...(surface && { surface: surface.name }),
    ...(predicted !== undefined && { predictedHz: predicted }),
  };
}

/** The nearest mode of the room, where its size is given and modes still stand apart. */
export function nearestMode(
  { frequencyHz }: Feature,
  { input, speedOfSoundMs }: Scene,
): RoomMode | undefined {
  const room = input.setup?.room;
  if (!room) return undefined;
  const volume = room.lengthM * room.widthM * room.heightM;
  if (frequencyHz > schroederFrequencyHz(REVERBERATION_S, volume)) return undefined;
  const miss = (mode: RoomMode) => Math.abs(mode.frequencyHz / frequencyHz - 1);
  const order = { axial: 0, tangential: 1, oblique: 2 };
  return roomModes(room, frequencyHz * (1 + MODE_SHARE), speedOfSoundMs)
    .filter((mode) => miss(mode) <= MODE_SHARE)
    .sort((a, b) => order[a.kind] - order[b.kind] || miss(a) - miss(b))[0];
}
