import type { Curve } from './curve/curve.js';
import { curveDigest } from './curve/curveDigest.js';
import { bankMean } from './filter/bankMean.js';
import { EFFORTS } from './fit/effort.js';
import type { SearchEffort } from './fit/search/search.js';
import { shortestKept } from './pipeline/averageMeasurements.js';
import { bassCautions } from './pipeline/bassBoost.js';
import type { DesignRequest } from './pipeline/designRequest.js';
import { designWarnings, requestWarnings } from './pipeline/designWarnings.js';
import { type DiagnosedMeasurements, diagnoseMeasurements } from './pipeline/diagnoseMeasurements.js';
import { errorFigures, unevenness } from './pipeline/errorFigures.js';
import { realFitOf } from './pipeline/fitForDevice.js';
import { limitsWithDevice } from './pipeline/fitLimits.js';
import { fixedBandWarnings } from './pipeline/fixedBandWarnings.js';
import { roundDb, roundFinding, roundHz, roundRange, roundZone } from './pipeline/rounding.js';
import { type SolvedRequest, solveRequest } from './pipeline/solveRequest.js';
import { unusedTypeWarnings } from './pipeline/unusedTypeWarnings.js';
import { whatRemains } from './pipeline/whatRemains.js';
import type { Design } from './schema/design.js';
import { describeTarget } from './target/describeTarget.js';
import { targetShapeDb } from './target/targetShapeDb.js';

/**
 * The whole of it: measured curves → clean-up → target → findings with a verdict each → a bank of filters under
 * limits → what it promises. The same request gives the same design, to the byte.
 *
 * @throws InputError where the request asks for what the data do not hold
 */
export function design(request: DesignRequest, shortcuts: Shortcuts = {}): Design {
  const { sampleRateHz, target } = request;
  const diagnosed = shortcuts.diagnosed ?? diagnoseMeasurements(request, sampleRateHz);
  const { range, cornerHz } = diagnosed;
  const { curve, referenceDb } = diagnosed.prepared;
  const effort = shortcuts.effort ?? EFFORTS[request.effort ?? 'normal'];
  const solved = shortcuts.solved ?? solveRequest(request, diagnosed, effort);
  const { diagnosis, zones, smoothed, frequencyHz, deviationDb } = solved;
  const { findings } = diagnosis;
  const made = realFitOf(solved, request);

  const { fit, responseDb, maximum, inputGainDb: gainDb } = made;
  const { filters } = fit;
  const levelDb = roundDb(fit.levelDb);
  const eqInRangeDb = responseDb(frequencyHz);
  const errorDb = deviationDb.map((db) => db - levelDb);
  const figures = (leftOut: typeof zones) => errorFigures(frequencyHz, errorDb, eqInRangeDb, leftOut);
  const meanDb = bankMean(filters, sampleRateHz, range.fromHz, range.toHz, responseDb);
  const greatest = maximum();
  const eqDb = responseDb(curve.frequencyHz);
  const kept = shortestKept(request.measurements);
  const onScale = (db: number) => roundDb(db + referenceDb);
  return {
    schemaVersion: 1,
    title: request.title,
    sampleRateHz,
    inputGainDb: gainDb,
    levelDb: onScale(levelDb),
    filters: [...filters],
    ...made.fields,
    range: roundRange(range),
    ...(kept?.fades && { gateS: Number(kept.afterS.toFixed(9)) }),
    ...(request.calibration && { calibration: calibrationOf(request.calibration, request.calibrationName) }),
    rangeExplanation: diagnosed.rangeExplanation,
    ...(cornerHz !== undefined && { cornerHz: roundHz(cornerHz) }),
    error: figures(zones),
    errorWithZones: figures([]),
    ...whatRemains(request, solved, made, { eqDb: eqInRangeDb, statedDb: figures(zones).afterRmsDb }),
    unevenness: unevenness(frequencyHz, errorDb, eqInRangeDb, zones),
    zones: zones.map(roundZone),
    limits: {
      bands: request.bands,
      maxBoostDb: request.maxBoostDb,
      maxCutDb: request.maxCutDb,
      maxLevelLossDb: request.maxLevelLossDb,
      minQ: request.minQ,
      maxQ: request.maxQ,
      ...(request.maxShelfQ !== undefined && { maxShelfQ: request.maxShelfQ }),
      smoothingOctaves: request.smoothingOctaves,
      ...(request.device && { withDevice: limitsWithDevice(solved.problem.limits, request.bands) }),
    },
    eq: { meanDb: roundDb(meanDb), maxDb: roundDb(greatest.maxDb), maxAtHz: roundHz(greatest.atHz) },
    target: describeTarget(target),
    findings: findings.map(roundFinding),
    ...(diagnosis.notes.length > 0 && { notes: [...diagnosis.notes] }),
    warnings: [
      ...diagnosed.warnings,
      ...requestWarnings(request),
      ...(request.device ? fixedBandWarnings(request.device, sampleRateHz) : []),
      ...(request.device
        ? unusedTypeWarnings(request.device, request, solved.problem.limits, sampleRateHz)
        : []),
      ...made.warnings,
      ...bassCautions(request, cornerHz, maximum),
      ...designWarnings({
        findings,
        zones,
        ...(cornerHz !== undefined && { cornerHz }),
        inputGainDb: gainDb,
        maxBoostDb: solved.problem.limits.maxBoostDb,
        maxLevelLossDb: request.maxLevelLossDb,
        meanDb,
        belowCornerDb: maximum(0, (cornerHz ?? range.fromHz) / BELOW_CORNER).maxDb,
        frequencyHz,
        eqDb: eqInRangeDb,
        filters,
        remainingDb: errorDb.map((db, i) => db + eqInRangeDb[i]!),
      }),
    ],
    curves: {
      frequencyHz: Array.from(curve.frequencyHz, roundHz),
      measuredDb: Array.from(curve.levelDb, onScale),
      smoothedDb: Array.from(smoothed.levelDb, onScale),
      targetDb: Array.from(targetShapeDb(target, curve.frequencyHz), (db) => onScale(db + levelDb)),
      eqDb: Array.from(eqDb, roundDb),
    },
    fit: {
      seed: request.seed,
      stopReason: fit.stopReason,
      iterations: fit.iterations,
      limitsReached: [...fit.limitsReached],
    },
  };
}

const calibrationOf = (curve: Curve, name: string | undefined): NonNullable<Design['calibration']> => ({
  ...(name !== undefined && { name }),
  digest: curveDigest(curve),
});

/** What one who designs again and again need not wait for twice. */
export interface Shortcuts {
  /** `diagnoseMeasurements` of the same request. */
  readonly diagnosed?: DiagnosedMeasurements;
  /** `solveRequest` of the same request. */
  readonly solved?: SolvedRequest;
  /** A short search, for a first look; the command line always takes the normal one. */
  readonly effort?: SearchEffort;
}

/** Half an octave: nearer to the corner than this a boost at the corner itself still spills over. */
const BELOW_CORNER = Math.SQRT2;
