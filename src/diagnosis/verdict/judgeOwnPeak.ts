import { exp } from '../../elementary/exponential.js';
import { directEvidence } from '../evidence/directEvidence.js';
import { movedEvidence, unlikeThere } from '../evidence/movedEvidence.js';
import { oddsSentence } from '../evidence/oddsSentence.js';
import { ownEvidence, roughAround } from '../evidence/ownEvidence.js';
import {
  PEAK_OTHER_WEIGHTS,
  PEAK_STAYING_WEIGHTS,
  PEAK_UNLIKE_WEIGHT,
  PEAK_WEIGHTS,
  PEAK_WEIGHTS_MOVED,
} from '../evidence/ownWeights.js';
import type { ReflectionShare } from '../evidence/reflectionEvidence.js';
import { spreadEvidence } from '../evidence/spreadEvidence.js';
import { clip } from '../features/clip.js';
import type { Feature } from '../features/detectFeatures.js';
import type { Scene } from '../scene/scene.js';
import { positionsPart } from './judgeOwn.js';

/** One curve makes nobody surer either way, and nothing does beyond the second figure. */
const SUREST_BY_CURVE = 0.95;
const SUREST = 0.99;
const MOST_HEIGHT_DB = 5;

export interface OwnPeakJudgement {
  /** That the speaker itself makes the peak. */
  readonly probability: number;
  /** Other peaks as wide in hertz near it, as later sound makes them. */
  readonly alike: number;
  /** What other measurements show, the company it is in, and the sum. */
  readonly sentences: readonly string[];
}

/**
 * How probably a peak is the speaker's own. As with dips, later sound makes peaks side by side, narrow and with ripple
 * all around; a speaker's are as wide as they are damped and stand alone.
 *
 * @param explained share of it that the fitted reflections make, 0 to 1
 */
export function judgeOwnPeak(
  peak: Feature,
  scene: Scene,
  share: ReflectionShare | undefined,
  explained: number,
): OwnPeakJudgement {
  const shape = ownEvidence(peak, scene, 0);
  const moved = movedEvidence(peak, scene, share);
  const direct = directEvidence(peak, scene);
  const others = [direct, spreadEvidence(peak, scene)].filter((e) => e !== undefined);
  const inDirect = direct?.terms.find(({ name }) => name === 'inDirect')?.value ?? 0;
  const weights = moved ? PEAK_WEIGHTS_MOVED : PEAK_WEIGHTS;
  const parts = [
    ...shape.terms.flatMap(({ name, label, value }) =>
      name === 'placement' || name === 'company' ? [] : [{ label, logOdds: weights[name] * value }],
    ),
    { label: 'standing alone', logOdds: shape.alike === 0 ? weights.lone : 0 },
    { label: 'how rough the curve is', logOdds: weights.rough * roughAround(peak, scene) },
    { label: 'the fitted reflections', logOdds: weights.explained * explained },
    { label: 'its height', logOdds: weights.level * clip(peak.levelDb - 1, 0, MOST_HEIGHT_DB) },
    ...(moved
      ? [
          {
            label: moved.label,
            logOdds:
              weighed(PEAK_STAYING_WEIGHTS, moved.terms) + PEAK_UNLIKE_WEIGHT * unlikeThere(peak, scene),
          },
        ]
      : []),
    ...others.map(({ label, terms }) => ({ label, logOdds: weighed(PEAK_OTHER_WEIGHTS, terms) })),
    ...positionsPart(peak, scene, inDirect),
  ];
  const sum = parts.reduce((all, { logOdds }) => all + logOdds, 0);
  const surest = moved || others.length > 0 ? SUREST : SUREST_BY_CURVE;
  const probability = clip(1 / (1 + exp(-sum)), 1 - surest, surest);
  const told = [moved, ...others].flatMap((e) => e?.sentence ?? []);
  return {
    probability,
    alike: shape.alike,
    sentences: [...told, shape.sentence, oddsSentence('the speaker', parts, probability)],
  };
}

function weighed(
  weights: Readonly<Record<string, number>>,
  terms: readonly { readonly name: string; readonly value: number }[],
): number {
  return terms.reduce((sum, { name, value }) => sum + (weights[name] ?? 0) * value, 0);
}
