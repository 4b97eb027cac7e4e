import type { Hypothesis } from './hypothesis.js';
import { logLikelihood, type Scatter } from './scatter.js';

/** A scatter, what was measured held against it, and what each suspect changes, all whitened. */
export interface PairTester {
  readonly scatter: Scatter;
  readonly residual: Float64Array;
  readonly changeOf: (hypothesis: Hypothesis) => Float64Array;
}

/**
 * The two of the suspects, of different filters, that together make what was measured likeliest: two large filters
 * that went wrong may look, one by one, like something else.
 *
 * @returns the one that explains more by itself first; undefined where there are no two
 */
export function likeliestPair(
  testers: readonly PairTester[],
  suspects: readonly Hypothesis[],
): readonly [Hypothesis, Hypothesis] | undefined {
  let top: { readonly pair: readonly [Hypothesis, Hypothesis]; readonly value: number } | undefined;
  for (const { scatter, residual, changeOf } of testers) {
    const changes = suspects.map(changeOf);
    const own = changes.map((change) => dot(change, change) - 2 * dot(residual, change));
    const before = dot(residual, residual);
    for (const [i, one] of suspects.entries()) {
      for (let j = 0; j < i; j++) {
        const other = suspects[j]!;
        if (one.filter === other.filter) continue;
        const squared = before + own[i]! + own[j]! + 2 * dot(changes[i]!, changes[j]!);
        const value = logLikelihood(scatter, squared) - one.penalty - other.penalty;
        if (top && value <= top.value) continue;
        top = { pair: own[i]! < own[j]! ? [one, other] : [other, one], value };
      }
    }
  }
  return top?.pair;
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}
