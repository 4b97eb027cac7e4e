import { type Bands, filtersFromBands } from './bands.js';
import { bankValues } from './bankKernel.js';
import { capAt } from './fitGrid.js';
import type { FitProblem } from './fitProblem.js';

const POINTS_PER_OCTAVE = 192;
const LOWEST_HZ = 2;

/** By how many dB a bank breaks each of its limits on a dense grid; 0 or less where a limit holds. */
export interface Excess {
  readonly capDb: number;
  readonly zoneRiseDb: number;
  readonly zoneFallDb: number;
  readonly levelLossDb: number;
}

/** Levels in dB at given frequencies. */
export type LevelAt = (frequencyHz: Float64Array) => Float64Array;

/**
 * The dense grid and what is allowed on it: from 2 Hz to half the sample rate, and the filters' own centres.
 *
 * @param deviationDb what a device's rounded coefficients add to the response of the bank
 */
export function measureExcess(problem: FitProblem, bands: Bands, deviationDb?: LevelAt): Excess {
  const frequencyHz = denseGrid(problem, bands);
  const eqDb = evaluate(problem, bands, frequencyHz, deviationDb);
  let capDb = Number.NEGATIVE_INFINITY;
  for (let p = 0; p < eqDb.length; p++) {
    capDb = Math.max(capDb, summit(eqDb, p) - capAt(problem, frequencyHz[p]!));
  }
  let zoneRiseDb = Number.NEGATIVE_INFINITY;
  let zoneFallDb = Number.NEGATIVE_INFINITY;
  for (const zone of problem.zones) {
    const edges = evaluate(problem, bands, Float64Array.of(zone.fromHz, zone.toHz), deviationDb);
    const floor = Math.min(edges[0]!, edges[1]!) - zone.maxFallDb;
    for (let p = 0; p < eqDb.length; p++) {
      if (frequencyHz[p]! < zone.fromHz || frequencyHz[p]! > zone.toHz) continue;
      zoneRiseDb = Math.max(zoneRiseDb, eqDb[p]! - zone.maxRiseDb);
      zoneFallDb = Math.max(zoneFallDb, floor - eqDb[p]!);
    }
    zoneRiseDb = Math.max(zoneRiseDb, edges[0]! - zone.maxRiseDb, edges[1]! - zone.maxRiseDb);
  }
  return {
    capDb,
    zoneRiseDb,
    zoneFallDb,
    levelLossDb: -problem.limits.maxLevelLossDb - meanOverRange(problem, bands, deviationDb),
  };
}

/** Mean of the EQ over the range in dB, every octave weighing the same. */
export function meanOverRange(problem: FitProblem, bands: Bands, deviationDb?: LevelAt): number {
  const eqDb = evaluate(problem, bands, problem.frequencyHz, deviationDb);
  const { frequencyHz } = problem;
  let area = 0;
  for (let p = 1; p < eqDb.length; p++) {
    area += 0.5 * (eqDb[p]! + eqDb[p - 1]!) * Math.log(frequencyHz[p]! / frequencyHz[p - 1]!);
  }
  return area / Math.log(frequencyHz.at(-1)! / frequencyHz[0]!);
}

function evaluate(
  problem: FitProblem,
  bands: Bands,
  frequencyHz: Float64Array,
  deviationDb?: LevelAt,
): Float64Array {
  const warped = frequencyHz.map((hz) => Math.tan((Math.PI * hz) / problem.sampleRateHz) ** 2);
  const eqDb = new Float64Array(frequencyHz.length);
  bankValues(bands.types, bands.values, warped, problem.sampleRateHz, eqDb);
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

function denseGrid(problem: FitProblem, bands: Bands): Float64Array {
  const nyquist = problem.sampleRateHz / 2;
  const count = Math.floor(Math.log2(nyquist / LOWEST_HZ) * POINTS_PER_OCTAVE);
  const grid = Array.from({ length: count + 1 }, (_, i) => LOWEST_HZ * 2 ** (i / POINTS_PER_OCTAVE));
  const around = filtersFromBands(bands).flatMap(({ frequencyHz, q }) =>
    [-1, -0.5, 0, 0.5, 1].map((k) => frequencyHz * 2 ** (k / (8 * q))),
  );
  return Float64Array.from([...grid, ...around.filter((hz) => hz < nyquist), nyquist]).sort();
}
