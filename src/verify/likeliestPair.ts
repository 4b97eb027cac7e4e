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
 * @param beside what the second is taken from, where that is another list
 * @returns the one that explains more by itself first; undefined where there are no two
 */
export function likeliestPair(
  testers: readonly PairTester[],
  suspects: readonly Hypothesis[],
  beside: readonly Hypothesis[] = suspects,
): readonly [Hypothesis, Hypothesis] | undefined {
  let top: { readonly pair: readonly [Hypothesis, Hypothesis]; readonly value: number } | undefined;
  for (const { scatter, residual, changeOf } of testers) {
    const ownOf = (change: Float64Array) => dot(change, change) - 2 * dot(residual, change);
    const [changes, changesBeside] = [suspects.map(changeOf), beside.map(changeOf)];
    const [own, ownBeside] = [changes.map(ownOf), changesBeside.map(ownOf)];
    const before = dot(residual, residual);
    for (const [i, one] of suspects.entries()) {
      const last = beside === suspects ? i : beside.length;
      for (let j = 0; j < last; j++) {
        const other = beside[j]!;
        if (one.filter === other.filter) continue;
        const squared = before + own[i]! + ownBeside[j]! + 2 * dot(changes[i]!, changesBeside[j]!);
        const value = logLikelihood(scatter, squared) - one.penalty - other.penalty;
        if (top && value <= top.value) continue;
        top = { pair: own[i]! < ownBeside[j]! ? [one, other] : [other, one], value };
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
