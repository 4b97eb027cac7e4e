import { interpolateLevel } from '../curve/interpolateLevel.js';
import { octaveWeights } from '../curve/octaveWeights.js';
import { sliceCurve } from '../curve/sliceCurve.js';
import { smoothOctave } from '../curve/smoothOctave.js';
import { weightedRms } from '../curve/weightedRms.js';
import { fitFilters, NORMAL_EFFORT } from '../fit/fitFilters.js';
import { buildProblem } from '../fit/problem/buildProblem.js';
import type { SearchEffort } from '../fit/search/search.js';
import { seededRandom } from '../fit/seededRandom.js';
import type { ChosenRange } from '../pipeline/chooseRange.js';
import type { DesignRequest } from '../pipeline/designRequest.js';
import { fitLimits } from '../pipeline/fitLimits.js';
import { targetShapeDb } from '../target/targetShapeDb.js';
import { heightsDb } from './unevennessDb.js';

/** A prediction is off by far more than what a coarser search leaves on the table. */
const QUICK: SearchEffort = { ...NORMAL_EFFORT, pointsPerOctave: 12, finalists: 1 };
/** A cancellation may be boosted freely so far under its surroundings, and not at all from here on. */
const SHALLOW_DB = 1;
const DEEP_DB = 4;
const LEAST_CAP_DB = 0.5;
const NULL_TO_HZ = 1500;

export interface Refit {
  /** RMS about the target over the range, every octave weighing the same, before and after. */
  readonly errorRmsDb: number;
  readonly remainingErrorRmsDb: number;
}

/**
 * What a new fit would leave of a curve. Where the surfaces cancel the EQ is held back, but unlike in a design what is
 * left there counts: a place is no better for having its dips left out.
 *
 * @param levelDb the curve on `gridHz`
 * @param reflectedDb what the surfaces do to it, on the same grid
 */
export function refitAt(
  levelDb: Float64Array,
  reflectedDb: Float64Array,
  request: DesignRequest,
  chosen: ChosenRange,
  gridHz: Float64Array,
): Refit {
  const { sampleRateHz, target, smoothingOctaves, seed } = request;
  const { range, boostFromHz } = chosen;
  const inRange = sliceCurve(smoothOctave({ frequencyHz: gridHz, levelDb }, smoothingOctaves), range);
  const { frequencyHz } = inRange;
  const shapeDb = targetShapeDb(target, frequencyHz);
  const deviationDb = inRange.levelDb.map((db, i) => Math.round((db - shapeDb[i]!) * 1e6) / 1e6);
  const problem = buildProblem({
    sampleRateHz,
    frequencyHz,
    deviationDb,
    zones: [],
    ...(boostFromHz !== undefined && { boostFromHz }),
    limits: fitLimits(request, range, chosen),
  });
  const weight = octaveWeights(frequencyHz);
  const capDb = heldBack(problem.capFrequencyHz, problem.capDb, gridHz, reflectedDb);
  const { rmsDb } = fitFilters({ ...problem, weight, capDb }, { random: seededRandom(seed), effort: QUICK });
  const mean = deviationDb.reduce((sum, db, i) => sum + weight[i]! * db, 0);
  return {
    errorRmsDb: weightedRms(
      deviationDb.map((db) => db - mean),
      weight,
    ),
    remainingErrorRmsDb: rmsDb,
  };
}

/**
 * The cap on the EQ where the surfaces cancel: falling from the greatest boost to next to nothing as a dip gets deeper,
 * without a step, so that places compare.
 */
function heldBack(
  capHz: Float64Array,
  capDb: Float64Array,
  gridHz: Float64Array,
  reflectedDb: Float64Array,
): Float64Array {
  const heights = { frequencyHz: gridHz, levelDb: heightsDb(gridHz, reflectedDb) };
  return capDb.map((cap, i) => {
    const hz = capHz[i]!;
    if (hz < gridHz[0]! || hz > NULL_TO_HZ) return cap;
    const depth = -interpolateLevel(heights, hz);
    const share = Math.min(1, Math.max(0, (depth - SHALLOW_DB) / (DEEP_DB - SHALLOW_DB)));
    return Math.min(cap, cap + share * (LEAST_CAP_DB - cap));
  });
}
