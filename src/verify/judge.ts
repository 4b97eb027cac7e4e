import { pow2 } from '../elementary/exponential.js';
import { bankHypotheses } from './bankHypotheses.js';
import type { Comparison, PromisedBank } from './comparison.js';
import { filterHypotheses, frequencyHypothesis } from './filterHypotheses.js';
import type { Hypothesis } from './hypothesis.js';
import { logLikelihood, type Scatter, scatterOf, whiten } from './scatter.js';
import { anyStructure, otherTone, possibleStructures, type Structure } from './structure.js';

/** Change of path differences, RMS, where nothing was moved but the microphone by a few centimetres … */
const STAYED_M = [0.002, 0.0035, 0.007, 0.018, 0.036];
/** … and where the speaker, the microphone or something large beside them was. */
const MOVED_M = [0.06, 0.12, 0.25, 0.6];
/** What shares of the misfit are taken in where the speaker has moved: a microphone put back as well as people can. */
const USUAL_M = 0.018;
const MOVED_PENALTY = 8;
const TONE_PENALTY = 8;
/** Natural logarithm of the likelihood by which a fault must beat "as promised", its penalty taken off. */
const LEAST_EVIDENCE = 1;
/** The same where the room itself has changed: what it did in the bass looks like a filter now and then. */
const LEAST_EVIDENCE_MOVED = 20;
/** Where more than that went wrong a list helps nobody. */
const MOST_FAULTS = 6;
const REFINED_OCTAVES = 1 / 12;
/** Scatters less likely than that by the natural logarithm are not followed further … */
const OUT_OF_REACH = 10;
/** … which is found out with every so many of the free frequencies. */
const THINNED = 4;

export interface Accepted {
  readonly hypothesis: Hypothesis;
  /** Log likelihood gained, less the penalty. */
  readonly evidence: number;
  /** Share of the misfit that it explains, in units of the scatter. */
  readonly explains: number;
}

export interface Judgement {
  readonly faults: readonly Accepted[];
  /** Measured minus promised, what the faults explain taken off; the level is left in. */
  readonly residualDb: Float64Array;
  /** Best-fitting change of path differences. */
  readonly displacementM: number;
  /** What changed beside the filters: the places of speaker or microphone, or the tone of everything. */
  readonly change: 'none' | 'moved' | 'tone';
  /** Squared misfit in units of the scatter of a faultless installation, for each point: before and after all faults. */
  readonly misfit: number;
  readonly misfitLeft: number;
  /** Scatter of a faultless installation. */
  readonly reference: Scatter;
  /** Every hypothesis about the whole bank, with the share that it alone would explain. */
  readonly wholeBank: readonly Accepted[];
}

/**
 * Which faults explain what was measured. Every hypothesis predicts what the equalizer adds instead; what then
 * remains is held against the scatter of an installation in which nothing moved, and of one in which the speaker
 * did. A fault is accepted where it makes the measurement likelier by more than its penalty; then the next one is
 * looked for in what remains.
 *
 * @param extra further hypotheses about the whole bank
 */
export function judge(
  bank: PromisedBank,
  comparison: Comparison,
  extra: readonly Hypothesis[] = [],
): Judgement {
  const { frequencyHz, beforeDb, afterDb, promisedDb } = comparison;
  const { filters, sampleRateHz } = bank;
  const start = afterDb.map((db, i) => db - beforeDb[i]! - promisedDb[i]!);
  const anyRoom = anyStructure(frequencyHz);
  const rooms = possibleStructures(frequencyHz);
  const test = (displacementM: number, structure: Structure): Tester => {
    const scatter = scatterOf(frequencyHz, beforeDb, start, displacementM, structure);
    const centred = start.map((db, i) => db - scatter.meanDb[i]!);
    return { scatter, residual: whiten(scatter, centred), changes: new Map() };
  };
  const whole = [...bankHypotheses(filters, sampleRateHz, frequencyHz), ...extra];
  const single = filters.map((_, index) => filterHypotheses(filters, index, sampleRateHz, frequencyHz));
  const refine = (index: number, hz: number) =>
    hz < sampleRateHz / 2 ? frequencyHypothesis(filters, index, sampleRateHz, frequencyHz, hz) : undefined;

  const stayed = explain(
    STAYED_M.flatMap((m) => rooms.map((room) => test(m, room))),
    { whole, single, refine, leastEvidence: LEAST_EVIDENCE },
  );
  const moved = explain(
    MOVED_M.map((m) => test(m, anyRoom)),
    { whole, single: [], refine, leastEvidence: LEAST_EVIDENCE_MOVED },
  );
  const toned = explain(
    STAYED_M.map((m) => test(m, otherTone(anyRoom))),
    { whole, single: [], refine, leastEvidence: LEAST_EVIDENCE_MOVED },
  );
  const movedEvidence = moved.likelihood - stayed.likelihood - MOVED_PENALTY;
  const toneEvidence = toned.likelihood - stayed.likelihood - TONE_PENALTY;
  const change =
    Math.max(movedEvidence, toneEvidence) <= 0 ? 'none' : movedEvidence > toneEvidence ? 'moved' : 'tone';
  const chosen = { none: stayed, moved, tone: toned }[change];

  const reference = test(change === 'moved' ? USUAL_M : stayed.displacementM, anyRoom);
  const misfitOf = (residual: Float64Array) => squaredLength(residual) / residual.length;
  const misfit = misfitOf(reference.residual);
  let left = reference.residual;
  const residualDb = Float64Array.from(start);
  const faults = chosen.faults.map((fault) => {
    const before = misfitOf(left);
    left = lessChange({ ...reference, residual: left }, fault.hypothesis);
    fault.hypothesis.changeDb.forEach((db, i) => {
      residualDb[i] = residualDb[i]! - db;
    });
    return { ...fault, explains: (before - misfitOf(left)) / misfit };
  });
  return {
    faults,
    residualDb,
    displacementM: chosen.displacementM,
    change,
    misfit,
    misfitLeft: misfitOf(left),
    reference: reference.scatter,
    wholeBank: whole.map((hypothesis, i) => ({
      hypothesis,
      evidence: chosen.wholeBankEvidence[i]!,
      explains: 1 - misfitOf(lessChange(reference, hypothesis)) / misfit,
    })),
  };
}

interface Tester {
  readonly scatter: Scatter;
  /** Whitened. */
  readonly residual: Float64Array;
  /** What hypotheses add, whitened: the same in every round. */
  readonly changes: Map<Hypothesis, Float64Array>;
}

interface Weighed {
  readonly hypothesis: Hypothesis;
  readonly evidence: number;
}

interface Suspects {
  readonly whole: readonly Hypothesis[];
  /** For each filter. */
  readonly single: readonly (readonly Hypothesis[])[];
  readonly refine: (filter: number, frequencyHz: number) => Hypothesis | undefined;
  readonly leastEvidence: number;
}

/** The likeliest set of faults, found one after the other, under one of several scatters. */
function explain(testers: readonly Tester[], suspects: Suspects) {
  let current = withinReach(testers, suspects);
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
    const first = faults.length === 0;
    const whole = first ? suspects.whole.map(weigh) : [];
    if (first) wholeBankEvidence = whole.map(({ evidence }) => evidence);
    const single = suspects.single.flatMap((list, filter) => (touched.has(filter) ? [] : list.map(weigh)));
    const found = mostLikely([...whole, ...single]);
    if (!found || found.evidence < suspects.leastEvidence) break;
    const winner = refined(found, weigh, suspects.refine);
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
      ...simple.map((h) => logLikelihood(tester.scatter, squaredLength(lessChange(tester, h))) - h.penalty),
    ),
  );
  const top = Math.max(...tops);
  return testers.filter((_, i) => tops[i]! > top - OUT_OF_REACH);
}

/** A frequency to a fraction of the search's step. */
function refined(
  found: Weighed,
  weigh: (hypothesis: Hypothesis) => Weighed,
  refine: Suspects['refine'],
): Weighed {
  const { type, filter, detail } = found.hypothesis;
  if (type !== 'frequencyWrong' || filter === undefined || detail.slip !== undefined) return found;
  let top = found;
  for (let step = REFINED_OCTAVES / 2; step > 0.003; step /= 2) {
    const middle = top.hypothesis.detail.frequencyHz!;
    for (const hz of [middle * pow2(step), middle / pow2(step)]) {
      const hypothesis = refine(filter, hz);
      const next = hypothesis && weigh(hypothesis);
      if (next && next.evidence > top.evidence) top = next;
    }
  }
  return top;
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
  for (const tester of testers) {
    const squared = squaredLength(lessChange(tester, hypothesis));
    top = Math.max(top, logLikelihood(tester.scatter, squared));
  }
  return top;
}

function lessChange({ scatter, residual, changes }: Tester, hypothesis: Hypothesis): Float64Array {
  const change = changes.get(hypothesis) ?? whiten(scatter, hypothesis.changeDb);
  changes.set(hypothesis, change);
  return residual.map((r, i) => r - change[i]!);
}

/** By how much a wrong frequency must beat a missing filter: somewhere in a room there is always a bump like it … */
const ELSEWHERE_OVER_MISSING = 5;
/** … but seldom at one of the few places where a slip of the hand would put it. */
const SLIP_OVER_MISSING = 2;

function mostLikely(weighed: readonly Weighed[]): Weighed | undefined {
  const top = weighed.reduce<Weighed | undefined>(
    (best, next) => (best === undefined || next.evidence > best.evidence ? next : best),
    undefined,
  );
  if (top?.hypothesis.type !== 'frequencyWrong') return top;
  const missing = weighed.find(
    ({ hypothesis }) => hypothesis.type === 'filterMissing' && hypothesis.filter === top.hypothesis.filter,
  );
  const least = top.hypothesis.detail.slip === undefined ? ELSEWHERE_OVER_MISSING : SLIP_OVER_MISSING;
  return missing && missing.evidence > top.evidence - least ? missing : top;
}

function squaredLength(values: Float64Array): number {
  let sum = 0;
  for (const value of values) sum += value * value;
  return sum;
}
