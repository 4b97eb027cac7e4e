import { exp } from '../../elementary/exponential.js';
import { log } from '../../elementary/logarithm.js';
import type { Evidence } from '../evidence/evidence.js';
import { earlyOctaves } from '../evidence/laterEvidence.js';
import { samenessThere, unlikeThere } from '../evidence/movedEvidence.js';
import { oddsSentence } from '../evidence/oddsSentence.js';
import { ownEvidence } from '../evidence/ownEvidence.js';
import {
  LATER_WEIGHTS,
  OWN_WEIGHTS,
  OWN_WEIGHTS_MOVED,
  POSITIONS_WEIGHTS,
  STAYING_WEIGHTS,
  UNLIKE_WEIGHT,
} from '../evidence/ownWeights.js';
import { smoothedAway } from '../evidence/smoothedAway.js';
import type { WeightName } from '../evidence/weights.js';
import { withinSpread } from '../evidence/withinSpread.js';
import { clip } from '../features/clip.js';
import type { Feature } from '../features/detectFeatures.js';
import type { Scene } from '../scene/scene.js';

/**
 * Nobody is surer than this that a dip is the speaker's, where only the shape of a curve says so. One reflection weaker
 * than the direct sound is minimum phase as a speaker is (Neely and Allen, J. Acoust. Soc. Am. 66 (1979) 165–169), so
 * neither level nor phase of one measurement can tell the two apart for certain.
 */
const SUREST_BY_SHAPE = 0.95;
/** Where another measurement or the direct sound shows it as well. */
const SUREST = 0.99;
/** From this value on a term that is direct evidence of the speaker counts as such. */
const SHOWN = 0.5;
/** Likeness times placements beyond the first: the same in two of them, with the surfaces known. */
const STAYED_SURELY = 1.5;
/** The direct sound alone has the dip: the speaker's, whatever its shape. Set by hand: of 75 such dips 68 were. */
const IN_DIRECT = 2.5;
/** Staying through one move, or where no surface is known that the speaker may have been moved along, makes nobody surer. */
const SUREST_BY_STAYING = 0.9;
/**
 * Nor than these, from so many octaves below 1 kHz on, where a dip is as wide as the null of a dull wall close by: that makes one
 * wide dip and leaves all else calm, as a resonance does, and shows in no impulse response. Of 34 such dips beside dull walls and in
 * the open (`test/evaluate/dullWalls.ts`, seeds 5510000 to 5510059, level alone) 7 were the speaker's, and of 12 that were
 * called so with 90 % or more 4. Where surfaces are named, or more was measured and did not tell, they are left. Nothing but
 * a curve may come from the open: there they stay with the equalizer, little surer than not.
 */
const SUREST_IF_EARLY = { octaves: 0.4, besideSurfaces: 0.55, byOneCurve: 0.65 };
/** Nor than this where the curve was smoothed too widely to show whose dip it is: about as likely as not, so it is left. */
const SUREST_IF_SMOOTHED = 0.55;
/**
 * With one curve sums up to the second figure say too much by the first, from the third on they are right: 1,900 dips of eight families
 * (`test/evaluate/ownDips.ts`, seeds 900000 to 900013) of which 52, 47, 74 and 95 % were the speaker's where 66, 75, 86
 * and 92 % had been said.
 */
const DOUBT = 0.65;
const UNCLEAR = 1;
const CLEAR = 2.6;
/** Per doubling of the positions' spread against that around it; fitted with the weights of the shape, alone and with other placements. */
const SPREAD = { alone: -0.85, moved: -1.9 };

/**
 * Nor than the second where another placement has another dip there, or none, from so much less likeness on: 5 of 19 that were called
 * the speaker's in spite of that were.
 */
const SUREST_IF_UNLIKE = { from: 0.9, probability: 0.55, likeness: 0.15 };

const STAYING = Object.keys(STAYING_WEIGHTS) as (keyof typeof STAYING_WEIGHTS)[];
const LATER = Object.keys(LATER_WEIGHTS) as (keyof typeof LATER_WEIGHTS)[];

export interface OwnJudgement {
  /** That the speaker itself makes the dip. */
  readonly probability: number;
  /** How far it is the same wherever the speaker was, 0 to 1. */
  readonly stayed: number;
  /** Other dips as wide in hertz near it, as later sound makes them. */
  readonly alike: number;
  readonly sentences: readonly [reason: string, sum: string];
}

/** How probably a dip is the speaker's own; what it is not, later sound makes, by a path that can be named or not. */
export function judgeOwn(
  dip: Feature,
  scene: Scene,
  placement: { readonly logOdds: number; readonly evidence: readonly Evidence[] },
): OwnJudgement {
  const value = (name: WeightName) =>
    placement.evidence.flatMap(({ terms }) => terms).find((term) => term.name === name)?.value ?? 0;
  const inDirect = value('inDirect');
  const { terms, sentence, alike } = ownEvidence(dip, scene, placement.logOdds);
  const moved = scene.moved.length > 0;
  const weights = moved ? OWN_WEIGHTS_MOVED : OWN_WEIGHTS;
  const parts = [
    ...terms.map(({ name, label, value }) => ({ label, logOdds: weights[name] * value })),
    { label: 'the direct sound alone', logOdds: IN_DIRECT * inDirect },
    {
      label: scene.moved.length > 1 ? 'the other placements' : 'the other placement',
      logOdds:
        sumOf(STAYING.map((name) => STAYING_WEIGHTS[name] * value(name))) +
        UNLIKE_WEIGHT * unlikeThere(dip, scene),
    },
    {
      label: 'the sound after the direct',
      logOdds: sumOf(LATER.map((name) => LATER_WEIGHTS[name] * value(name))),
    },
    { label: 'the microphone positions', logOdds: SPREAD[moved ? 'moved' : 'alone'] * value('spread') },
    ...positionsPart(dip, scene, inDirect),
  ];
  const sum = sumOf(parts.map((part) => part.logOdds));
  const doubt = moved ? 0 : -DOUBT * clip((CLEAR - sum) / (CLEAR - UNCLEAR), 0, 1);
  const told = [...parts, { label: 'what is not clear is later sound more often', logOdds: doubt }];
  const stayed = samenessThere(dip, scene);
  const shown = inDirect >= SHOWN || value('stayedInCalm') >= SHOWN || value('stayedAgain') >= STAYED_SURELY;
  // What stays is not the less the speaker's for what the curve at one place looks like.
  const byPlacement = 1 - (1 - stayed) / (1 + exp(-placement.logOdds));
  const byShape = surestByShape(dip, scene);
  const excess = sum + doubt - log(byShape / (1 - byShape));
  if (!shown && stayed < SHOWN && byShape < SUREST_BY_SHAPE && excess > 0)
    told.push({ label: 'a dull wall close by looks the same', logOdds: -excess });
  const unlike = inDirect < SHOWN ? clip(unlikeThere(dip, scene) / SUREST_IF_UNLIKE.likeness, 0, 1) : 0;
  const byLikeness = SUREST_IF_UNLIKE.from - unlike * (SUREST_IF_UNLIKE.from - SUREST_IF_UNLIKE.probability);
  const tooLike = sumOf(told.map((part) => part.logOdds)) - log(byLikeness / (1 - byLikeness));
  if (unlike > 0 && tooLike > 0) told.push({ label: 'it is another dip there', logOdds: -tooLike });
  const surest = smoothedAway(dip, scene) && inDirect < SHOWN ? SUREST_IF_SMOOTHED : SUREST;
  const tooSure = sumOf(told.map((part) => part.logOdds)) - log(surest / (1 - surest));
  if (surest < SUREST && tooSure > 0)
    told.push({ label: 'the curve was smoothed too widely to tell', logOdds: -tooSure });
  const probability = Math.min(
    1 / (1 + exp(-sum - doubt)),
    byPlacement,
    surest,
    unlike > 0 ? byLikeness : SUREST,
    shown ? SUREST : stayed >= SHOWN ? SUREST_BY_STAYING : byShape,
  );
  return {
    probability,
    stayed,
    alike,
    sentences: [sentence, oddsSentence('the speaker', told, probability)],
  };
}

/** Against a feature that is no more than what positions differ by; nothing where the direct sound has it, or the speaker was moved. */
export function positionsPart(
  feature: Feature,
  scene: Scene,
  inDirect: number,
): readonly { readonly label: string; readonly logOdds: number }[] {
  const within = scene.moved.length > 0 ? undefined : withinSpread(feature, scene);
  if (!within) return [];
  const logOdds = (1 - clip(inDirect, 0, 1)) * POSITIONS_WEIGHTS[feature.kind] * within;
  return [{ label: 'positions differ by as much', logOdds }];
}

function surestByShape(dip: Feature, { input }: Scene): number {
  const { laterSound, reflections, setup, moved } = input;
  const early = clip(earlyOctaves(dip) / SUREST_IF_EARLY.octaves, 0, 1);
  const besideSurfaces = laterSound || reflections || setup?.surfaces.length || moved?.length;
  const surest = besideSurfaces ? SUREST_IF_EARLY.besideSurfaces : SUREST_IF_EARLY.byOneCurve;
  return SUREST_BY_SHAPE - early * (SUREST_BY_SHAPE - surest);
}

const sumOf = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0);
