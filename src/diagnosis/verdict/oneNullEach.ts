import { log2 } from '../../elementary/logarithm.js';
import type { Feature } from '../features/detectFeatures.js';
import { nullKey, type TakenNulls } from './causeOf.js';
import type { Finding } from './finding.js';

/**
 * Judges dips so that no two are laid to one cancellation: of those that are, the nearest keeps it, and the others are
 * judged again by what is left.
 */
export function oneNullEach(
  dips: readonly Feature[],
  judge: (dip: Feature, taken: TakenNulls) => Finding,
): ReadonlyMap<Feature, Finding> {
  const judged = new Map<Feature, Finding>();
  const taken = new Set<string>();
  let open = dips.map((dip) => ({ dip, finding: judge(dip, taken) }));
  while (open.length > 0) {
    const winners = new Map<string, (typeof open)[number]>();
    for (const each of open) {
      const key = nullKey(each.finding.cause);
      const rival = key === undefined ? undefined : winners.get(key);
      if (key === undefined) judged.set(each.dip, each.finding);
      else if (!rival || octavesOff(each.finding) < octavesOff(rival.finding)) winners.set(key, each);
    }
    for (const [key, { dip, finding }] of winners) {
      judged.set(dip, finding);
      taken.add(key);
    }
    open = open
      .filter(({ dip }) => !judged.has(dip))
      .map(({ dip }) => ({ dip, finding: judge(dip, new Set(taken)) }));
  }
  return judged;
}

function octavesOff({ frequencyHz, cause }: Finding): number {
  return Math.abs(log2(frequencyHz / cause.predictedHz!));
}
