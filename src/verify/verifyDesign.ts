import type { Curve, FrequencyRange } from '../curve/curve.js';
import { roundDb } from '../curve/roundDb.js';
import { spreadOf } from '../curve/spreadOf.js';
import { weightedRms } from '../curve/weightedRms.js';
import { bankResponseDb } from '../filter/bankResponseDb.js';
import { smoothingWidth } from '../measurement/smoothingWidth.js';
import { type Checkable, curvesOf } from '../schema/checkable.js';
import type { Fault, Verification } from '../schema/verification.js';
import type { Warning } from '../warning.js';
import { channelHypotheses, type OtherChannel } from './channelHypotheses.js';
import { type Comparison, compare, type Seen } from './comparison.js';
import { distancesOf } from './distancesOf.js';
import { enoughPoints } from './enoughPoints.js';
import { faultOf, movedFault, otherToneFault, unknownFault } from './faultWords.js';
import { hiddenBySmoothing } from './hiddenBySmoothing.js';
import { humpsOf } from './humpsOf.js';
import { type Judgement, judge } from './judge.js';
import { lessTold } from './lessTold.js';
import { type AsMeasured, measuredBefore } from './measuredBefore.js';
import { octaveTable } from './octaveTable.js';
import { otherCalibration, type TakenOff } from './otherCalibration.js';
import { sameLevels } from './sameLevels.js';
import { shiftedFeatures } from './shiftedFeatures.js';
import { shorterThanRinging } from './shorterThanRinging.js';
import type { Smoothings } from './smoothedAlike.js';
import { smoothedElsewhere, smoothedOtherwise } from './smoothedOtherwise.js';
import { unlikeFineStructure } from './unlikeFineStructure.js';
import { wouldNotShow } from './wouldNotShow.js';

/** A design, and a measurement made with its filters on. */
export interface VerifyRequest {
  /** A whole one, or as much of one as there is: its filters are enough where `before` is given. */
  readonly design: Checkable;
  /** Measured with the filters entered. */
  readonly after: Curve;
  /** Measured without them, in place of the design's own curve: another microphone, another level. */
  readonly before?: Curve;
  /** The other speaker: without it no mix-up of channels can be told. */
  readonly other?: OtherChannel;
  /** Of how many measurements `after` and `before` are the average; default: 1. */
  readonly averaged?: { readonly after?: number; readonly before?: number };
  /** What of it is resolved, and what of its impulse response was kept, as far as that is known. */
  readonly seen?: Seen;
  /** What `after` was averaged from, as it came from its files; default: `after` itself, where it is a single one. */
  readonly measured?: readonly AsMeasured[];
  /** What was taken off `after` as the microphone's deviation; absent where that is not known. */
  readonly calibration?: TakenOff;
  readonly warnings?: readonly Warning[];
  /** The files of `after` and `before`, to be named where they are wanting. */
  readonly fileNames?: { readonly after: string; readonly before?: string };
}

/** Misfit, in units of a faultless installation's scatter, from which on something is wrong even if nothing fits. */
const TOO_MUCH = 3;

/**
 * Holds a new measurement against what a design promised: how well it agrees, level left out, and what went wrong
 * where it does not.
 *
 * @throws InputError where the curves have too little of the design's range in common, or too few points there, or where
 *   nothing is there that was measured without the filters
 */
export function verifyDesign(request: VerifyRequest): Verification {
  const { design, after } = request;
  const before = request.before ?? designCurve(design);
  const range = design.range ?? sharedSpan(before, after);
  const bank = { ...design, range, rounding: roundingOf(design) };
  const asTheyCame = compare(bank, before, after, request.other?.before, request.seen);
  const extraOf = (comparison: Comparison) =>
    request.other ? channelHypotheses(comparison, request.other) : [];
  const calibrations = request.before ? [] : otherCalibration(design.calibration, request.calibration);
  const judged = (smoothings: Smoothings | undefined) => {
    const comparison = smoothings
      ? compare(bank, before, after, request.other?.before, request.seen, smoothings)
      : asTheyCame;
    return {
      smoothings,
      comparison,
      judgement: judge(bank, comparison, extraOf(comparison), calibrations.length > 0),
    };
  };
  const isGated = isGatedOtherwise(request);
  const first = judged(
    isGated
      ? undefined
      : smoothedOtherwise(asTheyCame, {
          before: smoothingWidth(before),
          after: smoothingWidth(after, request.seen?.comments),
        }),
  );
  // What looks like a move may be a smoothing, and the microphone not exactly where it was.
  const other =
    isGated || first.smoothings || !['moved', 'shape'].includes(first.judgement.change)
      ? undefined
      : smoothedElsewhere(asTheyCame);
  const { smoothings, comparison, judgement } = other ? judged(other) : first;
  const coarse = coarseness(request, comparison);
  const faults = faultsOf(request, comparison, judgement);
  const { frequencyHz, beforeDb, afterDb, promisedDb } = comparison;

  const same = sameLevels({
    before,
    after,
    other: request.other,
    isBeforeOfDesign: request.before === undefined,
  });
  const distances = distancesOf(request, before, comparison, bank.rounding);
  const octaves = frequencyHz.map((hz) => (hz >= range.fromHz && hz <= range.toHz ? 1 : 0));
  return {
    schemaVersion: 1,
    title: design.title,
    asPromised: faults.length === 0,
    compared: comparedOf(request),
    expectedRmsDb: roundDb(weightedRms(judgement.reference.deviationDb, octaves)),
    remainingRmsDb: roundDb(spreadOf(judgement.residualDb, octaves)),
    ...distances,
    faults: [...faults],
    ...(judgement.change === 'none' &&
      design.filters.length > 0 &&
      faults.every(({ filter }) => filter !== undefined) && {
        wouldNotShow: wouldNotShow(design.filters, design.sampleRateHz, comparison, judgement.likelihoodWith),
      }),
    octaves: octaveTable(comparison, judgement.reference, distances.levelShiftDb),
    qConventions: faults.length === 0 ? [] : conventionsOf(judgement),
    shifted: faults.some(({ type }) => type === 'speakerMoved') ? shiftsOf(comparison, judgement) : [],
    warnings: [
      ...(request.warnings ?? []),
      ...calibrations,
      ...lessTold(design),
      ...coarse,
      ...same,
      ...(same.length === 0 ? measuredBefore(design.positions, measuredOf(request)) : []),
      ...shorterThanRinging(design, comparison),
      ...againstAverage(request),
      ...unlikeFineStructure(asTheyCame, smoothings),
      ...hiddenBySmoothing(design, comparison, judgement.reference),
    ],
    curves: {
      frequencyHz: Array.from(frequencyHz, (hz) => Number(hz.toPrecision(5))),
      beforeDb: Array.from(beforeDb, roundDb),
      promisedDb: Array.from(beforeDb, (db, i) => roundDb(db + promisedDb[i]!)),
      measuredDb: Array.from(afterDb, (db) => roundDb(db - distances.levelShiftDb)),
      expectedScatterDb: Array.from(judgement.reference.deviationDb, roundDb),
    },
    range,
  };
}

function sharedSpan(one: Curve, other: Curve): FrequencyRange {
  return {
    fromHz: Math.max(one.frequencyHz[0]!, other.frequencyHz[0]!),
    toHz: Math.min(one.frequencyHz.at(-1)!, other.frequencyHz.at(-1)!),
  };
}

/** A gate leaves late sound out, which no smoothing brings back: such a pair is compared as it came. */
function isGatedOtherwise({ design, before, seen }: VerifyRequest): boolean {
  if (before || design.gateS === undefined) return false;
  const { kept } = seen ?? {};
  return !kept?.fades || Math.abs(kept.afterS - design.gateS) > 0.01 * design.gateS;
}

/** The design's own curve has been brought onto a dense grid: how dense it was measured is not known any more. */
function coarseness(
  { after, before, fileNames = { after: 'the measurement with the filters on' } }: VerifyRequest,
  { frequencyHz }: Comparison,
): Warning[] {
  const ends = [frequencyHz[0]!, frequencyHz[frequencyHz.length - 1]!] as const;
  const beforeName = fileNames.before ?? 'the measurement with the filters off';
  const ofAfter = enoughPoints(fileNames.after, after, ...ends);
  const ofBefore = before ? enoughPoints(beforeName, before, ...ends) : [];
  // One file may have been given for both.
  return [...ofAfter, ...ofBefore.filter(({ message }) => message !== ofAfter[0]?.message)];
}

function measuredOf({ measured, after, averaged, fileNames }: VerifyRequest): readonly AsMeasured[] {
  if (measured) return measured;
  return (averaged?.after ?? 1) === 1 ? [{ fileName: fileNames?.after ?? '', asMeasured: after }] : [];
}

function comparedOf({ design, before, averaged = {} }: VerifyRequest): Verification['compared'] {
  return {
    after: averaged.after ?? 1,
    before: before ? (averaged.before ?? 1) : (design.positions?.each.length ?? 1),
    beforeFrom: before ? 'measurement' : 'design',
  };
}

/** One position, or some, are not the average of others, whatever the filters do. */
function againstAverage(request: VerifyRequest): Warning[] {
  const { after, before, beforeFrom } = comparedOf(request);
  if (after === before) return [];
  const measured = after === 1 ? 'a single measurement' : `the average of ${after} measurements`;
  const held = before === 1 ? 'one position' : `${before} positions`;
  const remedy =
    beforeFrom === 'measurement'
      ? 'Measure with the filters on and off at the same places.'
      : before === 1
        ? 'Give the one measured at that position alone, or the measurements without filters at the same places as well (--before).'
        : 'Give a measurement for each of those positions, or those without filters at the same places as well (--before).';
  // As many at each place may well be repeats, which average to what one of them shows.
  const repeated = after % before === 0;
  const unless = repeated
    ? `That is right where they are repeats at ${before === 1 ? 'that position' : 'each of those positions, as many at one as at the other'}; otherwise the two`
    : 'The two';
  return [
    {
      code: 'compared-with-average',
      message:
        `${beforeFrom === 'design' ? 'The design was made from' : 'Measured without filters were'} ${held}, and ${measured} ` +
        `with the filters on is held against ${before === 1 ? 'it' : 'their average'}. ${unless} differ whatever the filters do, as if something had been moved. ${remedy}`,
    },
  ];
}

function faultsOf(request: VerifyRequest, comparison: Comparison, judgement: Judgement): Fault[] {
  const { design } = request;
  const told = { design, judgement, isBeforeGiven: request.before !== undefined };
  const named = judgement.faults.map((fault) => faultOf(fault, told));
  const isMoved = judgement.change === 'moved';
  const hasOtherTone = judgement.change === 'tone' || judgement.change === 'shape';
  const isUnknown = hasOtherTone || judgement.usualMisfitLeft > TOO_MUCH;
  if (!isMoved && !isUnknown) return named.sort((a, b) => b.explains - a.explains);
  const made = judgement.misfitLeft - (hasOtherTone ? 0 : 1);
  const share = Math.min(1, Math.max(0, made / judgement.misfit));
  const rest = isMoved
    ? movedFault(
        share,
        shiftsOf(comparison, judgement),
        request.other !== undefined,
        named.length === 0,
        judgement,
      )
    : hasOtherTone
      ? otherToneFault(
          share,
          request.other !== undefined,
          judgement.change === 'shape' ? humpsOf(comparison.frequencyHz, judgement.residualDb) : [],
        )
      : unknownFault(share, request.other !== undefined);
  return [...named, rest].sort((a, b) => b.explains - a.explains);
}

/** Where the cancellations lie once what the equalizer really adds has been taken off. */
function shiftsOf({ frequencyHz, beforeDb, afterDb }: Comparison, judgement: Judgement) {
  return shiftedFeatures(
    frequencyHz,
    beforeDb,
    beforeDb.map((db, i) => db + judgement.residualDb[i]!),
    afterDb,
  ).map(({ beforeHz, afterHz }) => ({ beforeHz: roundHz(beforeHz), afterHz: roundHz(afterHz) }));
}

function conventionsOf(judgement: Judgement): Verification['qConventions'] {
  return judgement.wholeBank
    .flatMap(({ hypothesis, explains }) => {
      const { convention, direction } = hypothesis.detail;
      return convention && direction ? [{ name: convention, direction, explains: roundDb(explains) }] : [];
    })
    .sort((a, b) => b.explains - a.explains);
}

function designCurve(design: Checkable): Curve {
  const curves = curvesOf(design, design.title);
  return {
    frequencyHz: Float64Array.from(curves.frequencyHz),
    levelDb: Float64Array.from(curves.measuredDb),
  };
}

/** Coarse words make other filters than the numbers say: what the design shows of them is its promise. */
function roundingOf({ device, filters, sampleRateHz, curves }: Checkable): Curve | undefined {
  if (!curves || !device?.coefficients?.fixedPoint) return undefined;
  const frequencyHz = Float64Array.from(curves.frequencyHz);
  const ownDb = bankResponseDb(filters, sampleRateHz, frequencyHz);
  return { frequencyHz, levelDb: ownDb.map((db, i) => curves.eqDb[i]! - db) };
}

const roundHz = (hz: number): number => Number(hz.toPrecision(3));
