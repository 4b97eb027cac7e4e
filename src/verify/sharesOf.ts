import { lessChange, squaredLength, type Tester } from './explain.js';
import type { Hypothesis, Weighed } from './hypothesis.js';

/** What each of several faults explains of the misfit, and what is left of it once they have all been taken off. */
export function sharesOf(
  faults: readonly Pick<Weighed, 'hypothesis'>[],
  tester: Tester,
): { readonly shares: readonly number[]; readonly left: Float64Array } {
  const all = squaredLength(tester.residual);
  let left = tester.residual;
  const inTurn = faults.map(({ hypothesis }) => {
    const before = squaredLength(left);
    left = lessChange({ ...tester, residual: left }, hypothesis);
    return (before - squaredLength(left)) / all;
  });
  if (inTurn.every((share) => share > 0)) return { shares: inTurn, left };
  // Faults that hide each other explain by turns nothing and too much: then by what each explains beside the others.
  const beside = faults.map(({ hypothesis }) =>
    Math.max(
      0,
      squaredLength(lessChange({ ...tester, residual: left }, opposite(hypothesis))) - squaredLength(left),
    ),
  );
  const sum = beside.reduce((total, gain) => total + gain, 0);
  const together = Math.max(0, 1 - squaredLength(left) / all);
  return { shares: beside.map((gain) => (sum > 0 ? (together * gain) / sum : 0)), left };
}

const opposite = (hypothesis: Hypothesis): Hypothesis => ({
  ...hypothesis,
  changeDb: hypothesis.changeDb.map((db) => -db),
});
