import { cancellationsHz, pathDifferenceM, reinforcementsHz } from '../../acoustics/imageSource.js';
import { planeGeometry } from '../../acoustics/planeGeometry.js';
import { type RoomMode, roomModes } from '../../acoustics/roomModes.js';
import { schroederFrequencyHz } from '../../acoustics/schroederFrequency.js';
import type { Setup, Surface } from '../../acoustics/setup.js';
import { exp } from '../../elementary/exponential.js';
import { log2 } from '../../elementary/logarithm.js';
import type { ReflectionShare } from '../evidence/reflectionEvidence.js';
import type { Feature } from '../features/detectFeatures.js';
import { PARAMETERS_PER_PATH } from '../paths/pathModel.js';
import { surfacePrior } from '../paths/surfacePrior.js';
import { pathPressure } from '../scene/pathPressure.js';
import type { Scene } from '../scene/scene.js';
import type { Cause } from './finding.js';

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
/**
 * How many deviations of what the set-up leaves open of a path's length a prediction may lie from a feature. Of dips within, the
 * surface is the one that does most in 59 %, of those farther away in 36 % (few surfaces and rooms, seeds 300000 on).
 */
const PREDICTED_WITHIN_DEVIATIONS = 2;
/** However little is known of it: farther away a prediction says nothing of the feature. */
const PREDICTED_WITHIN_OCTAVES = 0.5;
/** The length of a path that was fitted to the very curve is off by little. */
const FITTED_WITHIN_OCTAVES = 0.15;

/** The path that makes most of a feature: index, and the name that the set-up has for it, if any. */
export interface GuiltyPath {
  readonly path: number;
  readonly lossDb: number;
  readonly surface?: string;
}

/** Cancellations that other dips are laid to already, as `nullKey` names them. */
export type TakenNulls = ReadonlySet<string>;

const NONE: TakenNulls = new Set();

/**
 * The path that is most to blame. Where many add up, what a dip would lose without one of them depends on all the
 * others, so what counts first is how much of the direct sound a path cancels (or adds to, at a peak) there, as it was
 * fitted and as the set-up foresees it (84 and 86 % right in rooms by the fit alone and by both, 90 and 95 % where a tape was read
 * 20 % wrong). A surface
 * of the set-up is named before a path that only the curve shows, unless that one does far more.
 */
export function guiltyPath(feature: Feature, share: ReflectionShare, scene: Scene): GuiltyPath | undefined {
  const { reflected, speedOfSoundMs } = scene;
  if (!reflected) return undefined;
  const { explanation } = reflected;
  const { expected } = explanation;
  const sign = feature.kind === 'dip' ? -1 : 1;
  const blamed = share.losses
    .map((lossDb, path) => {
      const pressure = pathPressure(explanation, path, feature.frequencyHz, speedOfSoundMs);
      return { path, lossDb, blame: sign * pressure + BLAME_PER_DB * lossDb };
    })
    .filter(({ blame }) => blame >= LEAST_BLAME)
    .sort((a, b) => b.blame - a.blame);
  const named = blamed.find(({ path }) => expected[path]?.name !== undefined);
  const most = blamed[0];
  const guilty = named && most && named.blame * FAR_MORE >= most.blame ? named : most;
  const surface = guilty && expected[guilty.path]?.name;
  return guilty && { path: guilty.path, lossDb: guilty.lossDb, ...(surface !== undefined && { surface }) };
}

/**
 * A reflection as cause, with the frequency that the bare geometry (or the fitted length) predicts nearest to it, if near.
 *
 * @param taken a cancellation makes one dip: where a path's here all make others it has a part in the dip, by way of a second
 *   surface maybe, and predicts nothing. To blame another surface then was wrong more often (73 against 76 % right in rooms)
 */
export function reflectionCause(
  feature: Feature,
  guilty: GuiltyPath | undefined,
  scene: Scene,
  taken: TakenNulls = NONE,
): Cause {
  const mode = guilty === undefined ? nearestMode(feature, scene) : undefined;
  if (mode) return { type: 'roomMode', predictedHz: mode.frequencyHz };
  if (guilty === undefined) return { type: 'reflection' };
  const surface = scene.input.setup?.surfaces.find((s) => s.name === guilty.surface);
  const [predicted] = predictions(feature, guilty, scene, taken);
  return {
    type: 'reflection',
    ...(surface && { surface: surface.name }),
    ...(predicted !== undefined && { predictedHz: predicted }),
  };
}

/** Names the cancellation that a dip is laid to; undefined where it is laid to none. */
export function nullKey({ surface, predictedHz }: Cause): string | undefined {
  return predictedHz === undefined ? undefined : `${surface ?? ''}@${predictedHz}`;
}

/** Where a path cancels (or adds) near a feature and makes no other, the nearest first, in Hz. */
function predictions(
  feature: Feature,
  { path, surface: name }: GuiltyPath,
  { input: { setup }, reflected, speedOfSoundMs }: Scene,
  taken: TakenNulls,
): number[] {
  const surface = setup?.surfaces.find((s) => s.name === name);
  const fitted = reflected?.explanation.fit.parameters[path * PARAMETERS_PER_PATH];
  if (!surface && fitted === undefined) return [];
  const differenceM = surface ? pathDifferenceM(planeGeometry(setup!, surface)) : exp(fitted!);
  const within = surface ? reachOctaves(setup!, surface, speedOfSoundMs) : FITTED_WITHIN_OCTAVES;
  const series = feature.kind === 'dip' ? cancellationsHz : reinforcementsHz;
  const octavesOff = (hz: number) => Math.abs(log2(hz / feature.frequencyHz));
  return series(differenceM, PREDICTED_TO_HZ, speedOfSoundMs)
    .filter((hz) => octavesOff(hz) < within)
    .filter(
      (predictedHz) =>
        !taken.has(nullKey({ type: 'reflection', ...(surface && { surface: surface.name }), predictedHz })!),
    )
    .sort((a, b) => octavesOff(a) - octavesOff(b));
}

/** How far the bare geometry may be off, by the tape and by how sound lags around the cabinet. */
function reachOctaves(setup: Setup, surface: Surface, speedOfSoundMs: number): number {
  const { lnDifferenceScale } = surfacePrior(setup, surface, speedOfSoundMs);
  return Math.min(PREDICTED_WITHIN_OCTAVES, (PREDICTED_WITHIN_DEVIATIONS * lnDifferenceScale) / Math.LN2);
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
