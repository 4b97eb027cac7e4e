import type { Curve } from '../curve/curve.js';
import { sliceCurve } from '../curve/sliceCurve.js';
import type { Diagnosis } from '../diagnosis/diagnose.js';
import { bridgeDips, bridgesOver } from '../fit/problem/bridgeDips.js';
import { buildProblem } from '../fit/problem/buildProblem.js';
import type { FitProblem } from '../fit/problem/fitProblem.js';
import type { SearchEffort } from '../fit/search/search.js';
import { targetShapeDb } from '../target/targetShapeDb.js';
import { besideHeld, limitsBeside } from './besideHeld.js';
import type { DesignRequest } from './designRequest.js';
import type { DiagnosedMeasurements } from './diagnoseMeasurements.js';
import { type AskedFit, fitAsAsked } from './fitAsAsked.js';
import { fitLimits } from './fitLimits.js';
import type { LimitedSpan } from './limitedSpan.js';
import { overruleFindings } from './overruleFindings.js';
import { positionDeviations } from './positionCurves.js';
import { type Repeatability, repeatabilityOf } from './repeatability.js';
import { smoothedWhereSwept } from './smoothedWhereSwept.js';
import { wideBoostsOf } from './wideBoostsOf.js';
import { zonesForFit } from './zonesForFit.js';

/** A request as the optimizer saw it, and what came of it before a device's steps. */
export interface SolvedRequest {
  readonly diagnosis: Diagnosis;
  /** Those of the diagnosis. */
  readonly zones: readonly LimitedSpan[];
  /** The averaged curve, smoothed, on the whole grid. */
  readonly smoothed: Curve;
  /** The points of the range, n of them. */
  readonly frequencyHz: Float64Array;
  /** Smoothed average minus target shape, n points. */
  readonly deviationDb: Float64Array;
  /** The same for each position, at the average's mean level, dips to be left bridged over; none where there is only one. */
  readonly positionsDb: readonly Float64Array[];
  readonly repeats?: Repeatability;
  /** Of the average, beside the held filters. */
  readonly problem: FitProblem;
  readonly asked: AskedFit;
}

/** @throws InputError where the request asks for what the data do not hold */
export function solveRequest(
  request: DesignRequest,
  diagnosed: DiagnosedMeasurements,
  effort: SearchEffort,
): SolvedRequest {
  const { sampleRateHz, target, smoothingOctaves, held = [] } = request;
  const { range, boostFromHz } = diagnosed;
  const { curve, referenceDb, positions = [], trust } = diagnosed.prepared;
  const diagnosis = overruleFindings(diagnosed.diagnosis, request.overrules ?? []);
  const { zones } = diagnosis;
  const smooth = (each: Curve) => smoothedWhereSwept(each, smoothingOctaves, trust?.swept);
  const smoothed = smooth(curve);
  const { frequencyHz, levelDb } = sliceCurve(smoothed, range);
  const shapeDb = targetShapeDb(target, frequencyHz);
  const deviationDb = levelDb.map((db, i) => roundMicro(db - shapeDb[i]!));
  const asked = zonesForFit(zones);
  const whole = buildProblem({
    sampleRateHz,
    frequencyHz,
    range,
    deviationDb,
    zones: asked,
    ...(boostFromHz !== undefined && { boostFromHz }),
    ...(request.levelDb !== undefined && { levelDb: roundMicro(request.levelDb - referenceDb) }),
    limits: {
      ...limitsBeside(request, (asked) => fitLimits(asked, range, diagnosed)),
      ...wideBoostsOf(diagnosis.findings),
    },
  });
  const problem = besideHeld(whole, held);
  const positionsDb = positionDeviations(positions.map(smooth), range, {
    averageDb: deviationDb,
    shapeDb,
    weight: whole.weight,
  }).map((db) => bridgeDips(frequencyHz, db, bridgesOver(asked, frequencyHz)));
  const repeats = repeatabilityOf(request, diagnosed, zones);
  return {
    diagnosis,
    zones: zones.map((zone, z) => ({ ...zone, maxRiseDb: whole.zones[z]!.maxRiseDb })),
    smoothed,
    frequencyHz,
    deviationDb,
    positionsDb,
    ...(repeats && { repeats }),
    problem,
    asked: fitAsAsked(problem, positionsDb, request, { effort, repeats }),
  };
}

/** What remains of rounding errors after a constant was taken off must not steer the search. */
function roundMicro(db: number): number {
  return Math.round(db * 1e6) / 1e6;
}
