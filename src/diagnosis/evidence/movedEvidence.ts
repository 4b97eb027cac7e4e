import { log, log2 } from '../../elementary/logarithm.js';
import { formatFrequency } from '../../units/formatFrequency.js';
import { formatLength } from '../../units/formatLength.js';
import { clip } from '../features/clip.js';
import { type Feature, signOf } from '../features/detectFeatures.js';
import type { Scene } from '../scene/scene.js';
import { suitsCrossover } from '../speaker/crossoverNull.js';
import type { Evidence } from './evidence.js';
import { likenessThere, stretched } from './likenessThere.js';
import { pathsThere } from './pathsThere.js';
import type { ReflectionShare } from './reflectionEvidence.js';
import { roughnessAround } from './roughnessAround.js';
import { deepNarrow } from './shapeEvidence.js';
import { stayedMaker, stayedShare } from './stayedShare.js';
import { stayedSurface } from './stayedSurface.js';

/** A dip within this share of the frequency counts as still in its place. */
const SAME_PLACE = 0.02;
/** How far away (in ln) a dip is looked for that may be the same one, moved. */
const SEARCH = 0.35;
const LEAST_DEPTH_DB = 1.5;
/** It is gone where no more than this share of its depth is left, and stayed where at least the second is. */
const GONE = 0.4;
const STAYED = 0.75;
/** A null's depth hangs on a few per cent of sound from elsewhere, so what is as alike as it needs be may have lost half of it. */
const STAYED_IN_PART = 0.5;
/** A dip of this likeness is another, and of this one the same. */
const DIFFERENT = 0.6;
const SAME = 0.9;
const MOST_UNLIKE = 1.2;
/** Where no surfaces are given, the speaker may have been moved along one that makes the dip: staying counts for less. */
const SURFACES_UNKNOWN = 0.5;
/** Below this a few centimetres change little. */
const LONG_WAVES_HZ = 1000;
/** A curve that is this smooth around a dip lets the comparison be trusted; twice as rough, little. */
const SMOOTH_DB = 0.6;
const SMOOTH_OCTAVES = 1;

/** What became of a dip in one other placement. */
interface MovedDip {
  /** What is left of its depth in its old place: 1 all, 0 nothing. */
  readonly remaining: number;
  /** Where the nearest dip of like depth is now, over where it was; absent where there is none. */
  readonly ratio?: number;
}

function movedDips(dip: Feature, { frequencyHz, measured, moved }: Scene): MovedDip[] {
  const sign = signOf(dip);
  const depthDb = Math.max(0.5, sign * measured.localDb[dip.index]!);
  return moved.map(({ localDb }) => {
    let left = 0;
    let ratio: number | undefined;
    let nearest = Number.POSITIVE_INFINITY;
    for (let i = 1; i < frequencyHz.length - 1; i++) {
      const off = frequencyHz[i]! / dip.frequencyHz;
      const away = Math.abs(log(off));
      const depth = sign * localDb[i]!;
      if (away < SAME_PLACE) left = Math.max(left, depth);
      const bottom = depth > sign * localDb[i - 1]! && depth >= sign * localDb[i + 1]!;
      if (bottom && depth > Math.max(LEAST_DEPTH_DB, 0.5 * depthDb) && away < SEARCH && away < nearest) {
        nearest = away;
        ratio = off;
      }
    }
    return { remaining: clip(left / depthDb, 0, 1), ...(ratio !== undefined && { ratio }) };
  });
}

/**
 * What stays where it is belongs to the speaker; what moves or vanishes belongs to the placement. A placement that
 * left the guilty surface where it was keeps the dip, so the one that changed most counts, and staying says the less
 * the more of the dip is made by surfaces that stayed as well. It says the more the more placements have it and the
 * shorter the wave: where sound goes a centimetre farther, a cancellation at 2 kHz is a tenth off, one at 200 Hz a
 * hundredth.
 */
export function movedEvidence(
  dip: Feature,
  scene: Scene,
  share: ReflectionShare | undefined,
): Evidence | undefined {
  const dips = movedDips(dip, scene);
  if (dips.length === 0) return undefined;
  const least = leastOf(dips);
  const paths = pathsThere(dip, scene, share);
  // In a rough curve something else may have filled it, or put another dip in its place.
  const smooth = 1 - clip((roughnessAround(dip, scene, SMOOTH_OCTAVES) - SMOOTH_DB) / SMOOTH_DB, 0, 1);
  const surfacesKnown = scene.input.setup?.surfaces.length ? 1 : Math.max(SURFACES_UNKNOWN, paths.left);
  const along = stayedShare(dip, scene);
  const tells = 1 - Math.max(paths.stayed, along?.part ?? 0);
  const known = surfacesKnown * tells;
  const likeness = leastLikeness(dip, scene);
  const same = sameness(likeness) * known;
  const alike = Math.max(0, stretched(likeness)) * known;
  const octaves = clip(log2(dip.frequencyHz / LONG_WAVES_HZ), 0, 2.5);
  return {
    label: dips.length === 1 ? 'the other placement' : 'the other placements',
    terms: [
      { name: 'gone', value: clip((GONE + 0.2 - least.remaining) / 0.2, 0, 1) * (1 + 4 * smooth) },
      {
        name: 'stayedInCalm',
        value: clip((least.remaining - STAYED) / 0.2, 0, 1) * sameness(likeness) * tells * smooth,
      },
      { name: 'stayedAgain', value: alike * (dips.length - 1) },
      { name: 'stayedShort', value: alike * octaves },
      { name: 'stayedCrossover', value: suitsCrossover(dip) ? same + alike : 0 },
      // Two drivers that cancel are deep and narrow as well, and stay.
      { name: 'deepNarrow', value: -same * deepNarrow(dip, scene) },
      { name: 'stayedComb', value: along?.part ?? 0 },
    ],
    sentence: sentenceFor(fateBy(least, likeness), least, dip, scene),
  };
}

/** What became of a dip where the speaker was moved: of all placements the one that changed it most; undefined without any. */
export type Fate = 'stayed' | 'partly' | 'gone';

export function fateOf(dip: Feature, scene: Scene): Fate | undefined {
  const dips = movedDips(dip, scene);
  return dips.length === 0 ? undefined : fateBy(leastOf(dips), leastLikeness(dip, scene));
}

function fateBy({ remaining }: MovedDip, likeness: number): Fate {
  if (remaining <= GONE) return 'gone';
  return sameness(likeness) >= 0.5 && remaining >= STAYED_IN_PART ? 'stayed' : 'partly';
}

/** How far a dip is another in the placement where it is least alike: 0 where it may be the same, 1.2 where the curve does the opposite. */
export function unlikeThere(dip: Feature, scene: Scene): number {
  return scene.moved.length === 0 ? 0 : clip(DIFFERENT - leastLikeness(dip, scene), 0, MOST_UNLIKE);
}

/** How far a dip is the same in all placements, 0 to 1, as `likenessThere` has it, and no surface stayed that makes it. */
export function samenessThere(dip: Feature, scene: Scene): number {
  if (scene.moved.length === 0) return 0;
  return sameness(leastLikeness(dip, scene)) * (1 - (stayedShare(dip, scene)?.part ?? 0));
}

const leastOf = (dips: readonly MovedDip[]) => dips.reduce((a, b) => (b.remaining < a.remaining ? b : a));
const leastLikeness = (dip: Feature, scene: Scene) =>
  Math.min(...scene.moved.map((there) => likenessThere(dip, scene, there)));
const sameness = (likeness: number) => clip((likeness - DIFFERENT) / (SAME - DIFFERENT), 0, 1);

function sentenceFor(fate: Fate, { remaining, ratio }: MovedDip, dip: Feature, scene: Scene): string {
  const at = formatFrequency(dip.frequencyHz);
  const count = scene.moved.length;
  const left = `${Math.round(100 * remaining)} %`;
  const where = count === 1 ? 'the other placement' : `one of the ${count} other placements`;
  if (fate === 'stayed') {
    const times = count === 1 ? 'when the speaker is moved' : `in all ${count} other placements`;
    const unit = scene.input.setup?.lengthUnit ?? 'cm';
    const maker = stayedMaker(dip, scene);
    if (maker) {
      const name = stayedSurface(maker.reflection, scene);
      const surface =
        name === undefined ? 'the surface that makes it, a desk or the floor maybe' : `"${name}"`;
      return `It stays at ${at} ${times}, and so does the whole comb of a reflection about ${formatLength(maker.reflection.differenceM, unit)} longer than the direct sound, which ${dip.kind === 'dip' ? 'has a null' : 'adds'} here: the speaker was moved along ${surface}, so staying tells nothing of the speaker.`;
    }
    const wave = formatLength(scene.speedOfSoundMs / dip.frequencyHz, unit);
    return `It stays at ${at} ${times} (${left} of its ${dip.kind === 'dip' ? 'depth' : 'height'} is left; a wave is ${wave} long there): what stays is the speaker's, unless the speaker was moved along the surface that makes it.`;
  }
  if (fate === 'partly')
    return remaining < STAYED_IN_PART
      ? `In ${where} ${left} of it is left at ${at}.`
      : `In ${where} the curve lies ${dip.kind === 'dip' ? 'low' : 'high'} at ${at} as well (${left} of it), but has another shape around: it may be another one there.`;
  const now = ratio !== undefined && Math.abs(log(ratio)) > SAME_PLACE;
  return `It is gone from ${at} in ${where}${now ? ` and lies at ${formatFrequency(dip.frequencyHz * ratio!)} there` : ''}: it moves with the placement.`;
}
