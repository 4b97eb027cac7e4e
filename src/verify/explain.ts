import type { Hypothesis, Suspects, Weighed } from './hypothesis.js';
import { likeliestPair } from './likeliestPair.js';
import { isElsewhere, mostLikely, refined } from './mostLikely.js';
import { logLikelihood, type Scatter, whiten } from './scatter.js';

/** Where more than that went wrong a list helps nobody. */
const MOST_FAULTS = 6;
/** Scatters less likely than that by the natural logarithm are not followed further … */
const OUT_OF_REACH = 10;
/** … which is found out with every so many of the free frequencies. */
const THINNED = 4;

/** One scatter, and what was measured held against it. */
export interface Tester {
  readonly scatter: Scatter;
  /** Whitened. */
  readonly residual: Float64Array;
  /** What hypotheses add, whitened: the same in every round. */
  readonly changes: Map<Hypothesis, Float64Array>;
}

export interface Outcome {
  readonly faults: readonly Weighed[];
  /** Natural logarithm, penalties taken off. */
  readonly likelihood: number;
  readonly displacementM: number;
  /** Of every hypothesis about the whole bank, before any fault is accepted. */
  readonly wholeBankEvidence: readonly number[];
}

/** By so much two plain faults must beat several that were found one after the other, by the natural logarithm … */
const PAIR_OVER_CHAIN = 3;
/** … and by so much a single one, which is the simpler story. */
const PAIR_OVER_ONE = 10;

/** A filter at a frequency left free beside a plain fault must beat two plain ones by as much as a missing one alone. */
const MIXED_OVER_PLAIN = 5;

/**
 * The likeliest set of faults under one of several scatters: found one after the other, or begun with the likeliest two
 * filters that are missing or have the wrong sign, or with such a one beside another at a wrong frequency.
 */
export function explain(testers: readonly Tester[], suspects: Suspects): Outcome {
  const reachable = withinReach(testers, suspects);
  const chain = oneAfterTheOther(reachable, suspects);
  if (chain.faults.length === 0) return chain;
  const plain = suspects.single.flatMap((list) =>
    list.filter(({ type }) => type === 'filterMissing' || type === 'gainSign'),
  );
  const pairOf = (among: readonly Tester[], beside?: readonly Hypothesis[]) =>
    likeliestPair(
      among.map((tester) => ({ ...tester, changeOf: (hypothesis) => changeOf(tester, hypothesis) })),
      plain,
      beside,
    );
  const pair = pairOf(testers);
  if (!pair) return chain;
  const both = oneAfterTheOther(withinReachOf(testers, pair), suspects, pair);
  const isBetter = both.faults.every(({ evidence }) => evidence > 0) && isLikelierPair(both, chain);
  const told = isBetter ? { ...both, wholeBankEvidence: chain.wholeBankEvidence } : chain;
  const near = new Set([...reachable, ...withinReachOf(testers, pair)]);
  const elsewhere = suspects.single.flatMap((list) => list.filter(({ type }) => type === 'frequencyWrong'));
  const mixed = pairOf([...near], elsewhere);
  if (!mixed) return told;
  const besideElsewhere = oneAfterTheOther(withinReachOf(testers, mixed), suspects, mixed);
  const isClear = besideElsewhere.likelihood > both.likelihood + MIXED_OVER_PLAIN;
  return besideElsewhere.faults.length > 1 && isClear && isLikelierPair(besideElsewhere, told)
    ? { ...besideElsewhere, wholeBankEvidence: chain.wholeBankEvidence }
    : told;
}

function isLikelierPair(pair: Outcome, told: Outcome): boolean {
  const margin = told.faults.length > 1 ? PAIR_OVER_CHAIN : PAIR_OVER_ONE;
  return pair.faults.length <= Math.max(2, told.faults.length) && pair.likelihood > told.likelihood + margin;
}

function oneAfterTheOther(
  testers: readonly Tester[],
  suspects: Suspects,
  known: readonly Hypothesis[] = [],
): Outcome {
  let current = testers;
  const faults: Weighed[] = [];
  const touched = new Set<number>();
  let { likelihood, displacementM } = likeliest(current);
  let penalties = 0;
  let wholeBankEvidence: number[] = [];
  while (faults.length < MOST_FAULTS) {
    const weigh = (hypothesis: Hypothesis): Weighed => ({
      hypothesis,
      evidence: likelihoodWith(current, hypothesis) - likelihood - hypothesis.penalty,
    });
    const search = () => {
      const whole = faults.length === 0 ? suspects.whole.map(weigh) : [];
      if (faults.length === 0) wholeBankEvidence = whole.map(({ evidence }) => evidence);
      const single = suspects.single.flatMap((list, filter) => (touched.has(filter) ? [] : list.map(weigh)));
      const found = mostLikely([...whole, ...single], weigh);
      const isEnough = found && found.evidence >= suspects.leastEvidence;
      return isEnough ? refined(found, weigh, suspects.refine) : undefined;
    };
    const next = known[faults.length];
    const winner = next ? refined(weigh(next), weigh, suspects.refine) : search();
    if (!winner || (next && !isElsewhere(winner, suspects, weigh))) break;
    const { hypothesis } = winner;
    faults.push(winner);
    penalties += hypothesis.penalty;
    current = current.map((tester) => ({
      ...tester,
      residual: lessChange(tester, hypothesis),
    }));
    ({ likelihood, displacementM } = likeliest(current));
    if (hypothesis.filter === undefined) break;
    touched.add(hypothesis.filter);
  }
  return { faults, likelihood: likelihood - penalties, displacementM, wholeBankEvidence };
}

/** Scatters that may matter: under some hypothesis not far less likely than the likeliest under any. */
function withinReach(testers: readonly Tester[], { whole, single }: Suspects): readonly Tester[] {
  const few = single.flatMap((list) =>
    list.filter(
      ({ type, detail }, i) => type !== 'frequencyWrong' || detail.slip !== undefined || i % THINNED === 0,
    ),
  );
  const simple = [...whole, ...few];
  const tops = testers.map((tester) =>
    Math.max(
      logLikelihood(tester.scatter, squaredLength(tester.residual)),
      ...simple.map((h) => logLikelihood(tester.scatter, squaredLeft(tester, h)) - h.penalty),
    ),
  );
  return nearTheTop(testers, tops);
}

/** As `withinReach`, once these faults have been taken off. */
function withinReachOf(testers: readonly Tester[], faults: readonly Hypothesis[]): readonly Tester[] {
  const reached = testers.map((tester) => {
    const residual = faults.reduce(
      (left, fault) => lessChange({ ...tester, residual: left }, fault),
      tester.residual,
    );
    return logLikelihood(tester.scatter, squaredLength(residual));
  });
  return nearTheTop(testers, reached);
}

function nearTheTop(testers: readonly Tester[], reached: readonly number[]): readonly Tester[] {
  const top = Math.max(...reached);
  return testers.filter((_, i) => reached[i]! > top - OUT_OF_REACH);
}

function likeliest(testers: readonly Tester[]) {
  let top = { likelihood: Number.NEGATIVE_INFINITY, displacementM: 0 };
  for (const { scatter, residual } of testers) {
    const likelihood = logLikelihood(scatter, squaredLength(residual));
    if (likelihood > top.likelihood) top = { likelihood, displacementM: scatter.displacementM };
  }
  return top;
}

function likelihoodWith(testers: readonly Tester[], hypothesis: Hypothesis): number {
  let top = Number.NEGATIVE_INFINITY;
  for (const tester of testers)
    top = Math.max(top, logLikelihood(tester.scatter, squaredLeft(tester, hypothesis)));
  return top;
}

/** What is left of the whitened difference once a hypothesis has been taken off. */
export function lessChange(tester: Tester, hypothesis: Hypothesis): Float64Array {
  const change = changeOf(tester, hypothesis);
  const left = Float64Array.from(tester.residual);
  for (let i = 0; i < left.length; i++) left[i]! -= change[i]!;
  return left;
}

/** `squaredLength` of `lessChange`, of which thousands are asked for and nothing else is looked at. */
function squaredLeft(tester: Tester, hypothesis: Hypothesis): number {
  const { residual } = tester;
  const change = changeOf(tester, hypothesis);
  let sum = 0;
  for (let i = 0; i < residual.length; i++) {
    const left = residual[i]! - change[i]!;
    sum += left * left;
  }
  return sum;
}

function changeOf({ scatter, changes }: Tester, hypothesis: Hypothesis): Float64Array {
  const change = changes.get(hypothesis) ?? whiten(scatter, hypothesis.changeDb);
  changes.set(hypothesis, change);
  return change;
}

export function squaredLength(values: Float64Array): number {
  let sum = 0;
  for (const value of values) sum += value * value;
  return sum;
}
