import type { FrequencyRange } from '../curve/curve.js';
import { octaveWeights } from '../curve/octaveWeights.js';
import { sliceCurve } from '../curve/sliceCurve.js';
import { smoothOctave } from '../curve/smoothOctave.js';
import { weightedRms } from '../curve/weightedRms.js';
import { buildProblem } from '../fit/buildProblem.js';
import { fitFilters, NORMAL_EFFORT } from '../fit/fitFilters.js';
import { seededRandom } from '../fit/seededRandom.js';
import type { ChosenRange } from '../pipeline/chooseRange.js';
import type { DesignRequest } from '../pipeline/designRequest.js';
import { fitLimits } from '../pipeline/fitLimits.js';
import { targetShapeDb } from '../target/targetShapeDb.js';
import { heightsDb } from './unevennessDb.js';

/** A search this short ends within a few per cent of the long one, which is less than a prediction is off by. */
const QUICK = { ...NORMAL_EFFORT, hops: 6 };
/** A cancellation this far under its surroundings is not boosted, here as in a design. */
const NULL_DB = -3;
const NULL_TO_HZ = 1500;

export interface Refit {
  /** RMS about the target over the range, every octave weighing the same, before and after. */
  readonly errorRmsDb: number;
  readonly remainingErrorRmsDb: number;
}

/**
 * What a new fit would leave of a curve. Spans in which the surfaces cancel are not boosted, but unlike in a design they
 * count: a place is no better for having its dips left out.
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
    zones: cancelled(gridHz, reflectedDb, range),
    ...(boostFromHz !== undefined && { boostFromHz }),
    limits: fitLimits(request, range, chosen),
  });
  const weight = octaveWeights(frequencyHz);
  const { rmsDb } = fitFilters({ ...problem, weight }, { random: seededRandom(seed), effort: QUICK });
  const mean = deviationDb.reduce((sum, db, i) => sum + weight[i]! * db, 0);
  return {
    errorRmsDb: weightedRms(
      deviationDb.map((db) => db - mean),
      weight,
    ),
    remainingErrorRmsDb: rmsDb,
  };
}

/** Spans in which the surfaces take away much more than around. */
function cancelled(
  frequencyHz: Float64Array,
  reflectedDb: Float64Array,
  { fromHz, toHz }: FrequencyRange,
): FrequencyRange[] {
  const heights = heightsDb(frequencyHz, reflectedDb);
  const spans: FrequencyRange[] = [];
  let start = -1;
  for (let i = 0; i <= heights.length; i++) {
    const deep =
      i < heights.length &&
      heights[i]! < NULL_DB &&
      frequencyHz[i]! >= fromHz &&
      frequencyHz[i]! <= Math.min(toHz, NULL_TO_HZ);
    if (deep && start < 0) start = i;
    if (!deep && start >= 0) {
      if (i - 1 > start) spans.push({ fromHz: frequencyHz[start]!, toHz: frequencyHz[i - 1]! });
      start = -1;
    }
  }
  return spans;
}
