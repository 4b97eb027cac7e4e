import { exp } from '../../elementary/exponential.js';
import { formatFrequency } from '../../units/formatFrequency.js';
import { BENEATH_ADVICE, beneathSentence, beneathSpeaker } from '../evidence/beneathSpeaker.js';
import { dipEvidence } from '../evidence/dipEvidence.js';
import type { Evidence } from '../evidence/evidence.js';
import { oddsSentence } from '../evidence/oddsSentence.js';
import { type ReflectionShare, reflectionShare } from '../evidence/reflectionEvidence.js';
import { SMOOTHED_AWAY_ADVICE, smoothedAway, smoothedAwaySentence } from '../evidence/smoothedAway.js';
import { type StayedShare, stayedMaker } from '../evidence/stayedShare.js';
import { stayedSurface } from '../evidence/stayedSurface.js';
import { WEIGHTS } from '../evidence/weights.js';
import { withinReason } from '../evidence/withinReason.js';
import { clip } from '../features/clip.js';
import type { Feature } from '../features/detectFeatures.js';
import { pathStrength } from '../scene/fittedSurface.js';
import { isWorthMending } from '../scene/isWorthMending.js';
import { heightsFor, type Scene } from '../scene/scene.js';
import {
  CROSSOVER_ADVICE,
  CROSSOVER_POSSIBLE,
  crossoverSentence,
  suitsCrossover,
} from '../speaker/crossoverNull.js';
import { type GuiltyPath, guiltyPath, nearestMode, reflectionCause, type TakenNulls } from './causeOf.js';
import type { Cause, Finding, Verdict } from './finding.js';
import { judgeOwn } from './judgeOwn.js';
import { moveAdvice } from './moveAdvice.js';
import { placementAdvice } from './placementAdvice.js';
import { protectedSpan } from './protectedSpan.js';
import { reflectionSentences } from './reflectionSentences.js';
import { cheapestVerdict } from './verdict.js';

/** From this probability on the placement is named as the cause, and down to one minus it the speaker. */
const NAMED_FROM = 0.6;

/** Nobody is surer than this. */
const SUREST = 0.99;

/** Nor than this that the placement makes what two drivers that cancel may make as well, and reflections only in part. */
const SUREST_BESIDE_CROSSOVER = 0.9;
const LEFT_OVER_DB = 2;

/**
 * From this probability on that it is not the speaker's, later sound is named, though no one path of it can be: where
 * the placement is as likely as not, or where there are as many more dips like it beside it.
 */
const LATER_SOUND_FROM = 0.8;
const PLACEMENT_FROM = 0.4;
const COMPANY_FROM = 2;

/** Fitted reflections that make so much of a dip, and such a share of it, are not said to have no part in it. */
const MADE_DB = 0.3;
const MADE_SHARE = 0.5;

const LATER_ADVICE =
  'Do not fill it: a boost goes into the sound that cancels here as well. Listening from nearer, or damping what reflects, makes it shallower.';

/**
 * Cause, verdict and reasons of a dip.
 *
 * @param taken cancellations that other dips are laid to
 */
export function judgeDip(dip: Feature, scene: Scene, taken?: TakenNulls): Finding {
  const share = reflectionShare(dip, scene);
  const evidence = withinReason(dipEvidence(dip, scene, share).map((e) => ({ ...e, logOdds: logOddsOf(e) })));
  const logOdds = evidence.reduce((sum, e) => sum + e.logOdds, 0);
  const maker = share && stayedMaker(dip, scene);
  const stayed = maker && stayedPath(maker, share, scene);
  const guilty = share && (stayed ?? guiltyPath(dip, share, scene));
  const small = !isWorthMending(dip);
  const own = judgeOwn(dip, scene, { logOdds, evidence });
  // What is the same wherever the speaker stands is no more the placement's than the speaker leaves over.
  const notOwn = 1 - own.stayed * own.probability;
  const mayCancelInside = crossoverOpen(dip, scene, { share, guilty, evidence });
  const surest = mayCancelInside ? SUREST_BESIDE_CROSSOVER : SUREST;
  const probability = clip(Math.min(1 / (1 + exp(-logOdds)), notOwn), 1 - SUREST, surest);
  const beneath = beneathSpeaker(dip, scene, share);
  const placed = !beneath && probability >= NAMED_FROM;
  const speakers = !beneath && own.probability >= NAMED_FROM;
  const cancelsInside = speakers && suitsCrossover(dip);
  const cheapest = beneath
    ? 'leave'
    : placed
      ? cheapestVerdict(probability, dip.frequencyHz)
      : handsOff(own.probability, dip);
  const verdict = cheapest === 'equalize' && (small || cancelsInside) ? 'leave' : cheapest;
  const later =
    !beneath &&
    !placed &&
    1 - own.probability >= LATER_SOUND_FROM &&
    (probability >= PLACEMENT_FROM || own.alike >= COMPANY_FROM);
  const cause: Cause = placed
    ? reflectionCause(dip, guilty, scene, taken)
    : { type: speakers ? 'speaker' : later ? 'reflection' : 'unknown' };
  const told = evidence
    .filter((e) => e.sentence !== undefined)
    .sort((a, b) => Math.abs(b.logOdds) - Math.abs(a.logOdds))
    .map((e) => e.sentence!);
  // Where a comb that stayed makes it and has no name, another path's figures would speak against it.
  const shown = maker && !stayed ? undefined : guilty;
  const reflections = share ? reflectionSentences(dip, share, shown, scene) : [];
  const blurred = !beneath && !placed && !speakers && smoothedAway(dip, scene);
  const mode = nearestMode(dip, scene);
  const [reason, sum] = own.sentences;
  return {
    kind: 'dip',
    frequencyHz: dip.frequencyHz,
    levelDb: dip.levelDb,
    widthOctaves: dip.widthOctaves,
    verdict,
    cause,
    confidence: placed ? probability : speakers ? own.probability : Math.min(SUREST, 1 - own.probability),
    evidence: [
      ...(cancelsInside ? [crossoverSentence(dip)] : []),
      ...(placed && mayCancelInside ? [CROSSOVER_POSSIBLE] : []),
      ...(beneath ? [beneathSentence(dip, scene)] : []),
      ...(blurred ? [smoothedAwaySentence(dip, scene)] : []),
      ...(later ? [laterSentence(dip, scene, share)] : []),
      ...(placed ? [...reflections, ...told] : [reason, ...told, ...reflections]),
      ...(mode
        ? [
            `The room's ${mode.kind} mode ${mode.nx}-${mode.ny}-${mode.nz} lies at ${formatFrequency(mode.frequencyHz)}.`,
          ]
        : []),
      // Later sound belongs to the placement as well; what was weighed is whether one path makes the dip.
      oddsSentence(later ? 'one reflection that can be told apart' : 'the placement', evidence, probability),
      ...(placed ? [] : [sum]),
    ],
    ...adviceFor(verdict, guilty?.surface, { small, later, cancelsInside, blurred, beneath }, dip, scene),
    ...((verdict === 'move' ||
      (verdict === 'leave' && !small && (cancelsInside || mayCancelInside || !dip.betweenFlanks))) && {
      zone: protectedSpan(dip, scene.frequencyHz, heightsFor(dip, scene)),
    }),
  };
}

/** Why a reflection is named, and no surface. */
function laterSentence({ index }: Feature, { measured }: Scene, share: ReflectionShare | undefined): string {
  const explainedDb = share?.explainedDb ?? 0;
  return explainedDb >= MADE_DB && explainedDb >= MADE_SHARE * -measured.localDb[index]!
    ? "Hardly the speaker's: reflections make most of it, but it is not clear that any one of them alone does."
    : 'Neither the speaker nor one path by way of a near surface: sound that comes later, by several ways.';
}

/** The path of the surface whose comb stayed where the speaker was moved, and makes the dip. */
function stayedPath(
  { reflection }: StayedShare,
  { losses }: ReflectionShare,
  scene: Scene,
): GuiltyPath | undefined {
  const surface = stayedSurface(reflection, scene);
  if (surface === undefined) return undefined;
  const path = scene.reflected?.explanation.expected.findIndex((each) => each?.name === surface) ?? -1;
  return path < 0 ? undefined : { path, lossDb: losses[path]!, surface };
}

/** Whether two drivers may cancel here, for all that reflections make of it and other measurements show. */
function crossoverOpen(
  dip: Feature,
  scene: Scene,
  {
    share,
    guilty,
    evidence,
  }: { share: ReflectionShare | undefined; guilty: GuiltyPath | undefined; evidence: readonly Evidence[] },
): boolean {
  const elsewhere = evidence
    .flatMap(({ terms }) => terms)
    .some(({ name, value }) => (name === 'gone' || name === 'notInDirect') && value > 0);
  const leftOverDb = -scene.measured.localDb[dip.index]! - (share?.explainedDb ?? 0);
  const fit = scene.reflected?.explanation.fit;
  // One reflection goes a longer way and is never stronger than the direct sound.
  const tooStrong = fit && guilty ? pathStrength(fit.parameters, guilty.path, dip.frequencyHz) > 1 : false;
  return suitsCrossover(dip) && !elsewhere && (tooStrong || leftOverDb >= LEFT_OVER_DB);
}

function logOddsOf({ terms }: Evidence): number {
  return terms.reduce((sum, { name, value }) => sum + WEIGHTS[name] * value, 0);
}

/**
 * Filling what later sound cancels wins nothing and costs headroom, and a narrow dip is hardly heard where a peak would
 * be (Bücklein, J. Audio Eng. Soc. 29 (1981) 126–131), so what is not probably the speaker's stays as it is. To move
 * for it takes a placement that makes it.
 */
function handsOff(ownProbability: number, { frequencyHz }: Feature): Verdict {
  return cheapestVerdict(1 - ownProbability, frequencyHz) === 'equalize' ? 'equalize' : 'leave';
}

function adviceFor(
  verdict: Finding['verdict'],
  surface: string | undefined,
  {
    small,
    later,
    cancelsInside,
    blurred,
    beneath,
  }: Readonly<Record<'small' | 'later' | 'cancelsInside' | 'blurred' | 'beneath', boolean>>,
  dip: Feature,
  scene: Scene,
): { advice?: string } {
  const { setup } = scene.input;
  if (verdict === 'move') {
    const said =
      setup && surface !== undefined ? placementAdvice(setup, surface, dip.frequencyHz) : undefined;
    return { advice: said ?? moveAdvice(dip, scene, verdict) };
  }
  if (verdict !== 'leave' || small) return {};
  if (beneath) return { advice: BENEATH_ADVICE };
  if (cancelsInside) return { advice: CROSSOVER_ADVICE };
  if (blurred && !later) return { advice: SMOOTHED_AWAY_ADVICE };
  return { advice: later ? LATER_ADVICE : moveAdvice(dip, scene, verdict) };
}
