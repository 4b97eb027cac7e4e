import type { Hypothesis, Suspects, Weighed } from './hypothesis.js';

/** By how much a wrong frequency must beat a missing filter: somewhere in a room there is always a bump like it … */
const ELSEWHERE_OVER_MISSING = 5;
/** … but seldom at one of the few places where a slip of the hand would put it … */
const SLIP_OVER_MISSING = 2;
/** … and by how much either must beat such a bump beside a filter that is where it belongs. */
const ELSEWHERE_OVER_BUMP = 5;
const SLIP_OVER_BUMP = 0;
/** In octaves: from half the search's step on. */
const FREQUENCY_STEPS = { first: 1 / 24, least: 0.003 };
const Q_STEPS = { first: 1 / 4, least: 0.05 };

type Weigh = (hypothesis: Hypothesis) => Weighed;

/** The likeliest of all; a filter at a wrong frequency only where it is likelier than what would look like it. */
export function mostLikely(weighed: readonly Weighed[], weigh: Weigh): Weighed | undefined {
  for (const top of weighed.toSorted((a, b) => b.evidence - a.evidence)) {
    const { type, filter, detail } = top.hypothesis;
    if (type !== 'frequencyWrong') return top;
    const missing = weighed.find(
      ({ hypothesis }) => hypothesis.type === 'filterMissing' && hypothesis.filter === filter,
    );
    const least = detail.slip === undefined ? ELSEWHERE_OVER_MISSING : SLIP_OVER_MISSING;
    if (!missing) return top;
    if (isGone(top, missing, weigh)) return missing.evidence > top.evidence - least ? missing : top;
  }
  return undefined;
}

/** Whether a filter that is suspected to be elsewhere is gone from its own place; others pass. */
export function isElsewhere(suspect: Weighed, { single }: Suspects, weigh: Weigh): boolean {
  const { type, filter } = suspect.hypothesis;
  if (type !== 'frequencyWrong' || filter === undefined) return true;
  const missing = single[filter]?.find((hypothesis) => hypothesis.type === 'filterMissing');
  return missing === undefined || isGone(suspect, weigh(missing), weigh);
}

/** Whether a filter that seems to be elsewhere is also gone from its own place. */
function isGone({ hypothesis, evidence }: Weighed, missing: Weighed, weigh: Weigh): boolean {
  const own = missing.hypothesis.changeDb;
  const bump = weigh({ ...hypothesis, changeDb: hypothesis.changeDb.map((db, i) => db - own[i]!) });
  const least = hypothesis.detail.slip === undefined ? ELSEWHERE_OVER_BUMP : SLIP_OVER_BUMP;
  return evidence > bump.evidence + least;
}

/** A free frequency or Q to a fraction of the search's step. */
export function refined(found: Weighed, weigh: Weigh, refine: Suspects['refine']): Weighed {
  const steps = found.hypothesis.detail.q === undefined ? FREQUENCY_STEPS : Q_STEPS;
  let top = found;
  for (let step = steps.first; step > steps.least; step /= 2) {
    const middle = top.hypothesis;
    for (const octaves of [step, -step]) {
      const hypothesis = refine(middle, octaves);
      const next = hypothesis && weigh(hypothesis);
      if (next && next.evidence > top.evidence) top = next;
    }
  }
  return top;
}
