import { log } from '../../elementary/logarithm.js';
import type { Bands } from '../bank/bands.js';
import { bankValues } from '../bank/bankKernel.js';
import type { FitProblem } from '../problem/fitProblem.js';
import { checkedPlaces, type Places, placesAround } from './checkedPlaces.js';

/** By how many dB a bank breaks each of its limits on a dense grid; 0 or less where a limit holds. */
export interface Excess {
  readonly capDb: number;
  readonly zoneRiseDb: number;
  readonly zoneFallDb: number;
  readonly levelLossDb: number;
}

/** Levels in dB at given frequencies. */
export type LevelAt = (frequencyHz: Float64Array) => Float64Array;

/** The same limit by limit: the cap at each of its own points (the worst up to the points beside it), and each zone. */
export interface ExcessByLimit {
  readonly capDb: Float64Array;
  readonly zoneRiseDb: readonly number[];
  readonly zoneFallDb: readonly number[];
  readonly levelLossDb: number;
}

/**
 * Taken on a dense grid from 2 Hz to half the sample rate, and at the filters' own centres.
 *
 * @param deviationDb what a device's rounded coefficients add to the response of the bank
 */
export function measureExcess(problem: FitProblem, bands: Bands, deviationDb?: LevelAt): Excess {
  return worstExcess(excessByLimit(problem, bands, deviationDb));
}

/** Of each kind of limit the one that is broken most. */
export function worstExcess({ capDb, zoneRiseDb, zoneFallDb, levelLossDb }: ExcessByLimit): Excess {
  return {
    capDb: capDb.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY),
    zoneRiseDb: Math.max(...zoneRiseDb),
    zoneFallDb: Math.max(...zoneFallDb),
    levelLossDb,
  };
}

export function excessByLimit(problem: FitProblem, bands: Bands, deviationDb?: LevelAt): ExcessByLimit {
  const capDb = new Float64Array(problem.capDb.length).fill(Number.NEGATIVE_INFINITY);
  const places = checkedPlaces(problem);
  const zones = problem.zones.map((zone, z) => {
    const edges = evaluate(problem, bands, places.zoneEdges[z]!, deviationDb);
    const riseDb = Math.max(edges[0]!, edges[1]!) - zone.maxRiseDb;
    const floor = Math.min(edges[0]!, edges[1]!) - zone.maxFallDb;
    return { zone, floor, riseDb, fallDb: Number.NEGATIVE_INFINITY };
  });
  for (const points of [places.dense, placesAround(problem, bands)]) {
    const { frequencyHz, cap, cell } = points;
    const eqDb = evaluate(problem, bands, points, deviationDb);
    for (let p = 0; p < eqDb.length; p++) {
      const over = (points.even ? summit(eqDb, p) : eqDb[p]!) - cap[p]!;
      const below = cell[p]!;
      if (over > capDb[below]!) capDb[below] = over;
      if (below + 1 < capDb.length && over > capDb[below + 1]!) capDb[below + 1] = over;
    }
    for (const span of zones) {
      for (let p = 0; p < eqDb.length; p++) {
        if (frequencyHz[p]! < span.zone.fromHz || frequencyHz[p]! > span.zone.toHz) continue;
        span.riseDb = Math.max(span.riseDb, eqDb[p]! - span.zone.maxRiseDb);
        span.fallDb = Math.max(span.fallDb, span.floor - eqDb[p]!);
      }
    }
  }
  return {
    capDb,
    zoneRiseDb: zones.map(({ riseDb }) => riseDb),
    zoneFallDb: zones.map(({ fallDb }) => fallDb),
    levelLossDb: -problem.limits.maxLevelLossDb - meanOverRange(problem, bands, deviationDb),
  };
}

/** Mean of the EQ over the range in dB, every octave weighing the same. */
export function meanOverRange(problem: FitProblem, bands: Bands, deviationDb?: LevelAt): number {
  const { places, lnSteps } = checkedPlaces(problem).range;
  const eqDb = evaluate(problem, bands, places, deviationDb);
  if (eqDb.length === 1) return eqDb[0]!;
  let area = 0;
  for (let p = 1; p < eqDb.length; p++) area += 0.5 * (eqDb[p]! + eqDb[p - 1]!) * lnSteps[p - 1]!;
  return area / log(places.frequencyHz.at(-1)! / places.frequencyHz[0]!);
}

function evaluate(
  { sampleRateHz }: FitProblem,
  bands: Bands,
  { frequencyHz, warped }: Places,
  deviationDb?: LevelAt,
): Float64Array {
  const eqDb = new Float64Array(frequencyHz.length);
  bankValues(bands.types, bands.values, warped, sampleRateHz, eqDb);
  deviationDb?.(frequencyHz).forEach((db, p) => {
    eqDb[p]! += db;
  });
  return eqDb;
}

/** The top of the parabola through a point and its neighbours, where that point is a local maximum. */
function summit(values: Float64Array, p: number): number {
  const y = values[p]!;
  const a = values[p - 1];
  const b = values[p + 1];
  if (a === undefined || b === undefined || a > y || b > y) return y;
  const curvature = a - 2 * y + b;
  return curvature < 0 ? y - (a - b) ** 2 / (8 * curvature) : y;
}
