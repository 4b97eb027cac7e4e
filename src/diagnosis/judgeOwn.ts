import { exp } from '../elementary/exponential.js';
import type { Feature } from './detectFeatures.js';
import type { Evidence } from './evidence.js';
import { oddsSentence } from './oddsSentence.js';
import { ownEvidence } from './ownEvidence.js';
import { OWN_WEIGHTS } from './ownWeights.js';
import type { Scene } from './scene.js';
import type { WeightName } from './weights.js';

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
/** The direct sound alone has the dip, or it stays at every placement: the speaker's, whatever its shape. Set by hand. */
const IN_DIRECT = 1.5;
const STAYED = 0.8;
/** Per doubling of the positions' spread against that around it; fitted with the weights of the shape. */
const SPREAD = -0.85;

export interface OwnJudgement {
  /** That the speaker itself makes the dip. */
  readonly probability: number;
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
  const stayed = value('stayed');
  const { terms, sentence } = ownEvidence(dip, scene, placement.logOdds);
  const parts = [
    ...terms.map(({ name, label, value }) => ({ label, logOdds: OWN_WEIGHTS[name] * value })),
    { label: 'the direct sound alone', logOdds: IN_DIRECT * inDirect },
    { label: 'the other placement', logOdds: STAYED * stayed },
    { label: 'the microphone positions', logOdds: SPREAD * value('spread') },
  ];
  const logOdds = parts.reduce((sum, part) => sum + part.logOdds, 0);
  const shown = inDirect >= SHOWN || stayed >= SHOWN;
  const probability = Math.min(
    1 / (1 + exp(-logOdds)),
    1 / (1 + exp(placement.logOdds)),
    shown ? SUREST : SUREST_BY_SHAPE,
  );
  return { probability, sentences: [sentence, oddsSentence('the speaker', parts, probability)] };
}
