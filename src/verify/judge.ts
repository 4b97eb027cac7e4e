import { log2 } from '../elementary/logarithm.js';
import { bankHypotheses } from './bankHypotheses.js';
import type { Comparison, PromisedBank } from './comparison.js';
import { explain, lessChange, type Outcome, squaredLength, type Tester } from './explain.js';
import { filterHypotheses, refinedHypothesis } from './filterHypotheses.js';
import type { Hypothesis } from './hypothesis.js';
import { logLikelihood, type Scatter, scatterOf, seenNoise, whiten } from './scatter.js';
import { sharesOf } from './sharesOf.js';
import { slidingTrend } from './slidingTrend.js';
import { widestOf } from './smoothedAlike.js';
import { anyStructure, otherShape, otherTone, possibleStructures, type Structure } from './structure.js';

/** Change of path differences, RMS, where a microphone was put back as well as people can: to 2 cm … */
const PUT_BACK_M = [0.002, 0.0035, 0.007, 0.018];
/** … carelessly, or the speaker pushed a little … */
const CARELESS_M = [0.036];
/** … and where the speaker, the microphone or something large beside them was moved. */
const MOVED_M = [0.06, 0.12, 0.25, 0.6];
/** What shares of the misfit are taken in where the speaker has moved. */
const USUAL_M = 0.018;
const MOVED_PENALTY = 8;
const TONE_PENALTY = 12;
/** Squared misfit a point from which on a microphone put back as well as people can no longer does for a reason. */
const MOVED_MISFIT = 1.75;
/** RMS of a change of tone worth a word, and its least share of all that is left … */
const LEAST_TONE = { db: 0.5, share: 0.6 };
/** … and where a move of something explains it even better. */
const CLEAR_TONE = { db: 0.75, share: 0.7 };
const TONE_OCTAVES = 0.5;
/** How near to each other the humps of another equalizer may stand. */
const SHAPE_OCTAVES = [0.75, 0.5];
const SHAPE_PENALTY = 12;
/** By how much it must be likelier than a move or a mere tone, the plainer stories. */
const SHAPE_OVER_OTHERS = 5;
const LEAST_SHAPE = { db: 0.75, share: 0.6 };
const SHAPE_SEEN_OCTAVES = 0.25;
/** Natural logarithm of the likelihood by which a fault must beat "as promised", its penalty taken off. */
const LEAST_EVIDENCE = 1;
/** The same where the room itself has changed: what it did in the bass looks like a filter now and then. */
const LEAST_EVIDENCE_MOVED = 20;
/** A microphone 3 cm off makes no such bass: in 20 simulated faultless checks no filter came to 3. */
const LEAST_EVIDENCE_CARELESS = 5;
/** Share of what is unexplained that a fault with a number left free must explain: it fits itself to a little of anything … */
const LEAST_SHARE_FREE = 0.12;
/** … but hardly with so much evidence: beside a microphone 3 cm off a filter of Q 2.3, half an octave off, may explain less. */
const BEYOND_DOUBT = 12;

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
  /** What changed beside the filters: the places of speaker or microphone, or the tone or the shape of everything. */
  readonly change: 'none' | 'moved' | 'tone' | 'shape';
  /** Squared misfit in units of the scatter of a faultless installation, for each point: before and after all faults. */
  readonly misfit: number;
  readonly misfitLeft: number;
  /** What is left in units of the scatter of a microphone put back as well as people can. */
  readonly usualMisfitLeft: number;
  /** Log likelihood of what was measured, the faults taken off, if the equalizer added that as well and nothing was moved far. */
  readonly likelihoodWith: (changeDb: Float64Array) => number;
  /** Scatter of a faultless installation. */
  readonly reference: Scatter;
  /** Every hypothesis about the whole bank, with the share that it alone would explain. */
  readonly wholeBank: readonly Accepted[];
}

/**
 * Which faults explain what was measured. Every hypothesis predicts what the equalizer adds instead; what then
 * remains is held against the scatter of an installation in which the microphone was put back, of one in which it was so
 * carelessly or the speaker pushed a little, and of one in which something was moved. A fault is accepted where it makes the measurement likelier by more than its penalty; then the next one is
 * looked for in what remains.
 *
 * @param extra further hypotheses about the whole bank
 * @param otherTone whether it is known that something of another tone stands between the two measurements: what is
 *   smooth over octaves is then laid to no filter
 */
export function judge(
  bank: PromisedBank,
  comparison: Comparison,
  extra: readonly Hypothesis[] = [],
  hasOtherTone = false,
): Judgement {
  const { frequencyHz, beforeDb, afterDb, promisedDb } = comparison;
  const { filters, sampleRateHz } = bank;
  const start = afterDb.map((db, i) => db - beforeDb[i]! - promisedDb[i]!);
  const seenDb = seenNoise(frequencyHz, start);
  const smoothedOctaves = comparison.alike && widestOf(comparison.alike.smoothings);
  const plainRoom = anyStructure(frequencyHz, smoothedOctaves);
  const heard = (structure: Structure) => (hasOtherTone ? otherTone(structure) : structure);
  const anyRoom = heard(plainRoom);
  const rooms = [...possibleStructures(frequencyHz, smoothedOctaves).map(heard), anyRoom];
  const test = (displacementM: number, structure: Structure): Tester => {
    const scatter = scatterOf(comparison, seenDb, displacementM, structure);
    const centred = start.map((db, i) => db - scatter.meanDb[i]!);
    return { scatter, residual: whiten(scatter, centred), changes: new Map() };
  };
  const ownWhole = bankHypotheses(filters, sampleRateHz, comparison).map((hypothesis) =>
    // Without the filters their rounded coefficients are gone as well.
    hypothesis.type === 'bypassed' ? { ...hypothesis, changeDb: promisedDb.map((db) => -db) } : hypothesis,
  );
  const whole = [...ownWhole, ...extra];
  const single = filters.map((_, index) => filterHypotheses(filters, index, sampleRateHz, comparison));
  const refine = (found: Hypothesis, octaves: number) =>
    refinedHypothesis(filters, sampleRateHz, comparison, found, octaves);

  const inEveryRoom = (m: number) => rooms.map((room) => test(m, room));
  const bankAlone = { whole, single: [], refine, leastEvidence: LEAST_EVIDENCE_MOVED };
  const [testersPutBack, testersCareless] = [PUT_BACK_M, CARELESS_M].map((m) => m.flatMap(inEveryRoom)) as [
    Tester[],
    Tester[],
  ];
  const putBack = explain(testersPutBack, {
    ...bankAlone,
    single,
    leastEvidence: LEAST_EVIDENCE,
  });
  const careless = explain(testersCareless, {
    ...bankAlone,
    single,
    leastEvidence: LEAST_EVIDENCE_CARELESS,
  });
  const far = explain(MOVED_M.flatMap(inEveryRoom), bankAlone);
  const moved = likelier(careless, far);
  const stayed = likelier(putBack, careless);
  const inOtherTone = (m: number) => rooms.map((room) => test(m, otherTone(room)));
  const toned = hasOtherTone
    ? stayed
    : explain([...PUT_BACK_M, ...CARELESS_M].flatMap(inOtherTone), bankAlone);
  const misfitOf = (residual: Float64Array) => squaredLength(residual) / residual.length;
  const leftBy = (outcome: Outcome, reference: Tester) =>
    outcome.faults.reduce(
      (residual, { hypothesis }) => lessChange({ ...reference, residual }, hypothesis),
      reference.residual,
    );
  const usual = test(USUAL_M, anyRoom);
  const movedEvidence = moved.likelihood - putBack.likelihood - MOVED_PENALTY;
  const toneEvidence = toned.likelihood - stayed.likelihood - TONE_PENALTY;
  const isToneLikely = hasOtherTone || toneEvidence > 0;
  const isMoved = movedEvidence > 0 && misfitOf(leftBy(moved, usual)) > MOVED_MISFIT;
  const isToned =
    isToneLikely &&
    (toneEvidence > movedEvidence || !isMoved) &&
    isSmooth(
      frequencyHz,
      residualOf(start, toned.faults),
      toneEvidence > movedEvidence ? LEAST_TONE : CLEAR_TONE,
      TONE_OCTAVES,
    );
  const plain = isToned ? 'tone' : isMoved ? 'moved' : 'none';
  // Too small a move to be told may still be what looks like a fault.
  const plainly = { none: movedEvidence > 0 ? moved : stayed, moved, tone: toned }[plain];
  // What was smoothed away would have told whether something was moved.
  const shaped =
    comparison.alike || (plain === 'none' && misfitOf(leftBy(plainly, usual)) <= MOVED_MISFIT)
      ? undefined
      : SHAPE_OCTAVES.map((octaves) =>
          explain(
            [...PUT_BACK_M, ...CARELESS_M].flatMap((m) =>
              rooms.map((room) => test(m, otherShape(room, octaves))),
            ),
            bankAlone,
          ),
        ).reduce(likelier, toned);
  const isShaped =
    shaped !== undefined &&
    shaped.likelihood > stayed.likelihood + SHAPE_PENALTY &&
    shaped.likelihood > (isToned ? likelier(moved, toned) : moved).likelihood + SHAPE_OVER_OTHERS &&
    isSmooth(frequencyHz, residualOf(start, shaped.faults), LEAST_SHAPE, SHAPE_SEEN_OCTAVES);
  const change = isShaped ? 'shape' : plain;
  const chosen = isShaped ? shaped : plainly;

  const displacementM = change === 'none' ? stayed.displacementM : USUAL_M;
  const accepting = test(displacementM, anyRoom);
  let unexplained = accepting.residual;
  const accepted = chosen.faults.filter(({ hypothesis, evidence }) => {
    const before = misfitOf(unexplained);
    const next = lessChange({ ...accepting, residual: unexplained }, hypothesis);
    const least = evidence > BEYOND_DOUBT ? 0 : leastShare(hypothesis);
    // Two faults may hide each other: the first of them taken off alone leaves more, not less.
    if (least > 0 && before - misfitOf(next) < least * before) return false;
    unexplained = next;
    return true;
  });
  // A tone is part of the misfit, also where it was to be expected.
  const reference = hasOtherTone ? test(displacementM, plainRoom) : accepting;
  const misfit = misfitOf(reference.residual);
  const { shares, left } = sharesOf(accepted, reference);
  const faults = accepted.map((fault, i) => ({ ...fault, explains: shares[i]! }));
  const likelihoodWith = (changeDb: Float64Array) => {
    const leftDb = residualOf(start, faults).map((db, i) => db + changeDb[i]!);
    return Math.max(
      ...[...testersPutBack, ...testersCareless].map(({ scatter }) => {
        const left = whiten(
          scatter,
          leftDb.map((db, i) => db - scatter.meanDb[i]!),
        );
        return logLikelihood(scatter, squaredLength(left));
      }),
    );
  };
  return {
    likelihoodWith,
    faults,
    residualDb: residualOf(start, faults),
    displacementM: chosen.displacementM,
    change,
    misfit,
    misfitLeft: misfitOf(left),
    usualMisfitLeft: misfitOf(leftBy(chosen, usual)),
    reference: reference.scatter,
    wholeBank: whole.map((hypothesis, i) => ({
      hypothesis,
      evidence: chosen.wholeBankEvidence[i]!,
      explains: 1 - misfitOf(lessChange(reference, hypothesis)) / misfit,
    })),
  };
}

const likelier = (one: Outcome, other: Outcome): Outcome => (other.likelihood > one.likelihood ? other : one);

function leastShare({ filter, type, detail }: Hypothesis): number {
  const isElsewhere = type === 'frequencyWrong' && detail.slip === undefined;
  const hasFreeNumber = type === 'unknown' && detail.isDoubled === undefined;
  return filter !== undefined && (hasFreeNumber || isElsewhere) ? LEAST_SHARE_FREE : 0;
}

/** Measured minus promised, less what the faults change. */
function residualOf(start: Float64Array, faults: Outcome['faults']): Float64Array {
  return faults.reduce((left, { hypothesis }) => left.map((db, i) => db - hypothesis.changeDb[i]!), start);
}

/** Whether a difference is slow over frequency and large enough to be called a change of tone. */
function isSmooth(
  frequencyHz: Float64Array,
  differenceDb: Float64Array,
  least: typeof LEAST_TONE,
  octaves: number,
): boolean {
  const tone = spread(slidingTrend(frequencyHz.map(log2), differenceDb, octaves));
  return tone > Math.max(least.db, least.share * spread(differenceDb));
}

/** RMS about the mean. */
function spread(values: Float64Array): number {
  const mean = values.reduce((sum, v) => sum + v, 0) / values.length;
  return Math.sqrt(values.reduce((sum, v) => sum + (v - mean) ** 2, 0) / values.length);
}
