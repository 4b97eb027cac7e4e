import { cancellationsHz, pathDifferenceM, reinforcementsHz } from '../acoustics/imageSource.js';
import { planeGeometry } from '../acoustics/planeGeometry.js';
import { type RoomMode, roomModes } from '../acoustics/roomModes.js';
import { schroederFrequencyHz } from '../acoustics/schroederFrequency.js';
import type { Feature } from './detectFeatures.js';
import type { Cause } from './finding.js';
import { PARAMETERS_PER_PATH } from './pathModel.js';
import { type ReflectionShare, strongestNamed } from './reflectionEvidence.js';
import type { Scene } from './scene.js';

/** A surface that takes away at least this share of the height (or this much) is named as the cause. */
const NAMED_SHARE = 0.25;
const NAMED_DB = 1.5;
/** A room mode this near (relative) may be the cause. */
const MODE_SHARE = 0.03;
/** Reverberation time of a furnished room; common practice, no published source. */
const REVERBERATION_S = 0.4;
const PREDICTED_TO_HZ = 20000;

/** The path that makes most of a feature: index, and the name that the set-up has for it, if any. */
export interface GuiltyPath {
  readonly path: number;
  readonly lossDb: number;
  readonly surface?: string;
}

export function guiltyPath(feature: Feature, share: ReflectionShare, scene: Scene): GuiltyPath | undefined {
  const least = Math.min(NAMED_DB, NAMED_SHARE * Math.abs(scene.measured.localDb[feature.index]!));
  const named = strongestNamed(share, scene);
  if (named && named.lossDb >= least) {
    const surface = scene.reflected?.explanation.expected[named.path]?.name;
    return { ...named, ...(surface !== undefined && { surface }) };
  }
  const path = share.losses.indexOf(Math.max(...share.losses));
  const lossDb = share.losses[path] ?? 0;
  return lossDb >= least ? { path, lossDb } : undefined;
}

/** A reflection as cause, with the frequency that the bare geometry (or the fitted length) predicts nearest to it. */
export function reflectionCause(feature: Feature, guilty: GuiltyPath | undefined, scene: Scene): Cause {
  const { setup } = scene.input;
  const surface = setup?.surfaces.find((s) => s.name === guilty?.surface);
  const parameters = scene.reflected?.explanation.fit.parameters;
  const differenceM = surface
    ? pathDifferenceM(planeGeometry(setup!, surface))
    : guilty && parameters && Math.exp(parameters[guilty.path * PARAMETERS_PER_PATH]!);
  if (differenceM === undefined) return { type: 'reflection' };
  const series = feature.kind === 'dip' ? cancellationsHz : reinforcementsHz;
  const predicted = series(differenceM, PREDICTED_TO_HZ, scene.speedOfSoundMs).sort(
    (a, b) => Math.abs(Math.log(a / feature.frequencyHz)) - Math.abs(Math.log(b / feature.frequencyHz)),
  )[0];
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
