import { errorBound } from '../fit/errorBound.js';
import { errorCurve } from '../fit/errorCurve.js';
import { countedOnly } from '../fit/problem/countedOnly.js';
import type { FitProblem } from '../fit/problem/fitProblem.js';
import { seededRandom } from '../fit/seededRandom.js';
import type { Design } from '../schema/design.js';
import type { DesignRequest } from './designRequest.js';
import { type AskedFit, remainingRmsDb } from './fitAsAsked.js';
import type { RealFit } from './fitForDevice.js';
import { positionFigures } from './positionCurves.js';
import type { Repeatability } from './repeatability.js';
import { roundDb } from './rounding.js';
import type { SolvedRequest } from './solveRequest.js';

/** All that a design says of the error that is left. */
export function whatRemains(
  request: DesignRequest,
  { problem, asked, positionsDb, repeats, diagnosis: { zones } }: SolvedRequest,
  made: RealFit,
  { eqDb, statedDb }: { readonly eqDb: Float64Array; readonly statedDb: number },
): Pick<Design, 'bound' | 'errorAgainstBands' | 'positions' | 'repeatability'> {
  const curve = request.againstBands ? errorAgainstBands(problem, asked, request) : undefined;
  return {
    bound: errorShares(problem, asked, made, statedDb),
    ...(curve && { errorAgainstBands: curve }),
    ...(positionsDb.length > 1 && {
      positions: {
        aim: request.aim ?? 'mean',
        ...positionFigures(request.measurements, positionsDb, problem.frequencyHz, eqDb, zones),
      },
    }),
    ...(repeats && { repeatability: savedForNoise(repeats, asked) }),
  };
}

/**
 * What the error that is left consists of, one part added to the other. To a thousandth of a dB the parts sum to
 * `statedDb` exactly, and none is negative: where a later stage happens to end lower, the earlier ones share in that.
 *
 * @param problem of the average
 * @param statedDb weighted RMS error that the design states
 */
function errorShares(
  problem: FitProblem,
  asked: AskedFit,
  { fields }: Pick<RealFit, 'fields'>,
  statedDb: number,
): NonNullable<Design['bound']> {
  const isLeaning = asked.fit !== asked.onAverage;
  const counted = countedOnly(problem);
  const beforeDeviceDb = fields.deviceCost?.unroundedRmsDb ?? statedDb;
  const stated = roundDb(statedDb);
  const beforeDevice = Math.min(stated, roundDb(beforeDeviceDb));
  const bands = isLeaning
    ? Math.min(beforeDevice, roundDb(remainingRmsDb(counted, asked.onAverage)))
    : beforeDevice;
  const unavoidable = Math.min(bands, roundDb(errorBound(counted)));
  return {
    unavoidableRmsDb: unavoidable,
    bandsPriceDb: roundDb(bands - unavoidable),
    ...(isLeaning && { aimPriceDb: roundDb(beforeDevice - bands) }),
    devicePriceDb: roundDb(stated - beforeDevice),
  };
}

/** The curve is followed at least so far, and so far beyond the bands allowed, so that more of them can be judged. */
const LEAST = 12;
const BEYOND = 2;
const MOST = 40;

/**
 * The error with no band, one, two and so on under the same limits, but for a device's steps. It goes through the fit.
 * Undefined where the number of bands is no choice.
 */
export function errorAgainstBands(
  problem: FitProblem,
  { onAverage }: Pick<AskedFit, 'onAverage'>,
  { seed, held = [] }: Pick<DesignRequest, 'seed' | 'held'>,
): Design['errorAgainstBands'] {
  const { maxBands: allowed, types, slots } = problem.limits;
  if (allowed === 0 || types.length === 0) return undefined;
  const used = onAverage.filters.length;
  const maxBands = Math.max(used, Math.min(MOST - held.length, Math.max(LEAST, allowed + BEYOND)));
  const counted = countedOnly(problem);
  const { points, kneeBands } = errorCurve(problem, {
    random: seededRandom(seed),
    maxBands,
    known: { filters: onAverage.filters, rmsDb: remainingRmsDb(counted, onAverage) },
    counted,
  });
  return {
    points: points.map(({ bands, rmsDb }) => ({ bands: bands + held.length, rmsDb: roundDb(rmsDb) })),
    kneeBands: kneeBands + held.length,
    ...(slots && { deviceBands: slots.length + held.length }),
  };
}

/** How well the measurement repeats, and which bands were saved for it. */
function savedForNoise(
  { db, source, measurements }: Repeatability,
  { onAverage, regardless = onAverage }: AskedFit,
): NonNullable<Design['repeatability']> {
  return {
    db: roundDb(db),
    source,
    ...(measurements !== undefined && { measurements }),
    bandsNotSpent: Math.max(0, regardless.filters.length - onAverage.filters.length),
    wouldWinDb: roundDb(Math.max(0, onAverage.rmsDb - regardless.rmsDb)),
  };
}
