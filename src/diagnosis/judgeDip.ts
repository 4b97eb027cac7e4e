import { exp } from '../elementary/exponential.js';
import { formatFrequency } from '../units/formatFrequency.js';
import { guiltyPath, nearestMode, reflectionCause } from './causeOf.js';
import { clip } from './clip.js';
import type { Feature } from './detectFeatures.js';
import { dipEvidence } from './dipEvidence.js';
import type { Evidence } from './evidence.js';
import type { Cause, Finding } from './finding.js';
import { isWorthMending } from './isWorthMending.js';
import { placementAdvice } from './placementAdvice.js';
import { protectedSpan } from './protectedSpan.js';
import { reflectionShare } from './reflectionEvidence.js';
import { reflectionSentences } from './reflectionSentences.js';
import type { Scene } from './scene.js';
import { cheapestVerdict } from './verdict.js';
import { WEIGHTS } from './weights.js';

/** From this probability on the placement is named as the cause, and down to one minus it the speaker. */
const NAMED_FROM = 0.6;

/** Nobody is surer than this. */
const SUREST = 0.99;

/** The same where fitted reflections would account for it as well. */
const SURELY_SPEAKER = 0.3;

/** Cause, verdict and reasons of a dip. */
export function judgeDip(dip: Feature, scene: Scene): Finding {
  const share = reflectionShare(dip, scene);
  const evidence = dipEvidence(dip, scene, share).map((e) => ({ ...e, logOdds: logOddsOf(e) }));
  const logOdds = evidence.reduce((sum, e) => sum + e.logOdds, 0);
  const probability = clip(1 / (1 + exp(-logOdds)), 1 - SUREST, SUREST);
  const guilty = share && guiltyPath(dip, share, scene);
  const small = !isWorthMending(dip);
  const cheapest = cheapestVerdict(probability, dip.frequencyHz);
  const verdict = cheapest === 'equalize' && small ? 'leave' : cheapest;
  const accounted = share !== undefined && share.explainedDb > Math.max(1, share.unexplainedDb);
  const cause: Cause =
    probability >= NAMED_FROM
      ? reflectionCause(dip, guilty, scene)
      : { type: probability <= (accounted ? SURELY_SPEAKER : 1 - NAMED_FROM) ? 'speaker' : 'unknown' };
  const told = evidence
    .filter((e) => e.sentence !== undefined)
    .sort((a, b) => Math.abs(b.logOdds) - Math.abs(a.logOdds))
    .map((e) => e.sentence!);
  const reflections = share ? reflectionSentences(dip, share, guilty, scene) : [];
  const mode = nearestMode(dip, scene);
  const placed = probability >= NAMED_FROM;
  return {
    kind: 'dip',
    frequencyHz: dip.frequencyHz,
    levelDb: dip.levelDb,
    widthOctaves: dip.widthOctaves,
    verdict,
    cause,
    confidence: placed ? probability : 1 - probability,
    evidence: [
      ...(placed ? [...reflections, ...told] : [...told, ...reflections]),
      ...(mode
        ? [
            `The room's ${mode.kind} mode ${mode.nx}-${mode.ny}-${mode.nz} lies at ${formatFrequency(mode.frequencyHz)}.`,
          ]
        : []),
      summingUp(evidence, probability),
    ],
    ...adviceFor(verdict, guilty?.surface, small, dip, scene),
    ...((verdict === 'move' || (verdict === 'leave' && !small)) && {
      zone: protectedSpan(dip, scene.frequencyHz, scene.heightDb),
    }),
  };
}

function logOddsOf({ terms }: Evidence): number {
  return terms.reduce((sum, { name, value }) => sum + WEIGHTS[name] * value, 0);
}

/** The terms that decided it, as factors on the odds. */
function summingUp(evidence: readonly (Evidence & { logOdds: number })[], probability: number): string {
  const factor = (logOdds: number) =>
    logOdds >= 0 ? `×${digits(exp(logOdds))}` : `÷${digits(exp(-logOdds))}`;
  const parts = evidence
    .filter((e) => Math.abs(e.logOdds) > 0.15)
    .map((e) => `${e.label} ${factor(e.logOdds)}`);
  return `Odds for the placement: ${parts.join(', ')}; together ${percent(probability)} %.`;
}

function digits(x: number): string {
  return x < 10 ? x.toFixed(1) : x < 1000 ? String(Math.round(x)) : 'over 1000';
}

const percent = (p: number): number => Math.round(100 * p);

function adviceFor(
  verdict: Finding['verdict'],
  surface: string | undefined,
  small: boolean,
  { frequencyHz }: Feature,
  { input }: Scene,
): { advice?: string } {
  if (verdict === 'move') {
    const said =
      input.setup && surface !== undefined ? placementAdvice(input.setup, surface, frequencyHz) : undefined;
    return {
      advice:
        said ??
        'Move the speaker or the microphone by 10 to 20 cm and measure again: what moves with it is this dip.',
    };
  }
  if (verdict === 'leave' && !small) {
    return {
      advice:
        'Measure again with the speaker 10 to 20 cm away from here: if it stays, the equalizer may mend it; if it moves, it belongs to the placement.',
    };
  }
  return {};
}
