import { exp } from '../elementary/exponential.js';
import { formatFrequency } from '../units/formatFrequency.js';
import { guiltyPath, nearestMode, reflectionCause } from './causeOf.js';
import { clip } from './clip.js';
import type { Feature } from './detectFeatures.js';
import { dipEvidence } from './dipEvidence.js';
import type { Evidence } from './evidence.js';
import type { Cause, Finding, Verdict } from './finding.js';
import { isWorthMending } from './isWorthMending.js';
import { judgeOwn } from './judgeOwn.js';
import { oddsSentence } from './oddsSentence.js';
import { placementAdvice } from './placementAdvice.js';
import { protectedSpan } from './protectedSpan.js';
import { reflectionShare } from './reflectionEvidence.js';
import { reflectionSentences } from './reflectionSentences.js';
import { heightsFor, type Scene } from './scene.js';
import { cheapestVerdict } from './verdict.js';
import { WEIGHTS } from './weights.js';

/** From this probability on the placement is named as the cause, and down to one minus it the speaker. */
const NAMED_FROM = 0.6;

/** Nobody is surer than this. */
const SUREST = 0.99;

/** From this probability on that it is not the speaker's, later sound is named, though no one path of it can be. */
const LATER_SOUND_FROM = 0.8;

const LATER_ADVICE =
  'Do not fill it: a boost goes into the sound that cancels here as well. Listening from nearer, or damping what reflects, makes it shallower.';

/** Cause, verdict and reasons of a dip. */
export function judgeDip(dip: Feature, scene: Scene): Finding {
  const share = reflectionShare(dip, scene);
  const evidence = dipEvidence(dip, scene, share).map((e) => ({ ...e, logOdds: logOddsOf(e) }));
  const logOdds = evidence.reduce((sum, e) => sum + e.logOdds, 0);
  const probability = clip(1 / (1 + exp(-logOdds)), 1 - SUREST, SUREST);
  const guilty = share && guiltyPath(dip, share, scene);
  const small = !isWorthMending(dip);
  const placed = probability >= NAMED_FROM;
  const own = judgeOwn(dip, scene, { logOdds, evidence });
  const speakers = own.probability >= NAMED_FROM;
  const cheapest = placed ? cheapestVerdict(probability, dip.frequencyHz) : handsOff(own.probability, dip);
  const verdict = cheapest === 'equalize' && small ? 'leave' : cheapest;
  const later = 1 - own.probability >= LATER_SOUND_FROM;
  const cause: Cause = placed
    ? reflectionCause(dip, guilty, scene)
    : { type: speakers ? 'speaker' : later ? 'reflection' : 'unknown' };
  const told = evidence
    .filter((e) => e.sentence !== undefined)
    .sort((a, b) => Math.abs(b.logOdds) - Math.abs(a.logOdds))
    .map((e) => e.sentence!);
  const reflections = share ? reflectionSentences(dip, share, guilty, scene) : [];
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
      ...(placed ? [...reflections, ...told] : [reason, ...told, ...reflections]),
      ...(mode
        ? [
            `The room's ${mode.kind} mode ${mode.nx}-${mode.ny}-${mode.nz} lies at ${formatFrequency(mode.frequencyHz)}.`,
          ]
        : []),
      oddsSentence('the placement', evidence, probability),
      ...(placed ? [] : [sum]),
    ],
    ...adviceFor(verdict, guilty?.surface, { small, later: later && !placed }, dip, scene),
    ...((verdict === 'move' || (verdict === 'leave' && !small && !dip.betweenFlanks)) && {
      zone: protectedSpan(dip, scene.frequencyHz, heightsFor(dip, scene)),
    }),
  };
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
  { small, later }: { readonly small: boolean; readonly later: boolean },
  { frequencyHz }: Feature,
  { input }: Scene,
): { advice?: string } {
  if (verdict === 'move') {
    const said =
      input.setup && surface !== undefined ? placementAdvice(input.setup, surface, frequencyHz) : undefined;
    return {
      advice:
        said ??
        'Move the speaker or the microphone by 10 to 20 cm and measure again: a cancellation moves with it.',
    };
  }
  if (verdict === 'leave' && !small) {
    if (later) return { advice: LATER_ADVICE };
    return {
      advice:
        'Measure again with the speaker 10 to 20 cm away from here: if it stays, the equalizer may mend it; if it moves, it belongs to the placement.',
    };
  }
  return {};
}
