import { lowerIndex } from '../../curve/lowerIndex.js';
import { pow2 } from '../../elementary/exponential.js';
import { log, log2 } from '../../elementary/logarithm.js';
import { tan } from '../../elementary/sine.js';
import { type Bands, filtersFromBands } from '../bank/bands.js';
import { bankValues } from '../bank/bankKernel.js';
import { capAt } from '../problem/fitGrid.js';
import type { FitProblem } from '../problem/fitProblem.js';

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
  const zones = problem.zones.map((zone) => {
    const edges = evaluate(problem, bands, Float64Array.of(zone.fromHz, zone.toHz), deviationDb);
    const riseDb = Math.max(edges[0]!, edges[1]!) - zone.maxRiseDb;
    const floor = Math.min(edges[0]!, edges[1]!) - zone.maxFallDb;
    return { zone, floor, riseDb, fallDb: Number.NEGATIVE_INFINITY };
  });
  for (const points of [denseGrid(problem), pointsAround(problem, bands)]) {
    const { frequencyHz, warped, cap, cell } = points;
    const eqDb = new Float64Array(frequencyHz.length);
    bankValues(bands.types, bands.values, warped, problem.sampleRateHz, eqDb);
    deviationDb?.(frequencyHz).forEach((db, p) => {
      eqDb[p]! += db;
    });
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
  const frequencyHz = withEnds(problem);
  const eqDb = evaluate(problem, bands, frequencyHz, deviationDb);
  if (eqDb.length === 1) return eqDb[0]!;
  let area = 0;
  for (let p = 1; p < eqDb.length; p++) {
    area += 0.5 * (eqDb[p]! + eqDb[p - 1]!) * log(frequencyHz[p]! / frequencyHz[p - 1]!);
  }
  return area / log(frequencyHz.at(-1)! / frequencyHz[0]!);
}

/** The grid with the ends of the range beside it, where it does not reach them. */
function withEnds({ frequencyHz, range }: FitProblem): Float64Array {
  if (!range) return frequencyHz;
  const before = range.fromHz < frequencyHz[0]! ? [range.fromHz] : [];
  const after = range.toHz > frequencyHz.at(-1)! ? [range.toHz] : [];
  return Float64Array.from([...before, ...frequencyHz, ...after]);
}

function evaluate(
  problem: FitProblem,
  bands: Bands,
  frequencyHz: Float64Array,
  deviationDb?: LevelAt,
): Float64Array {
  const warped = frequencyHz.map((hz) => tan((Math.PI * hz) / problem.sampleRateHz) ** 2);
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

interface CheckPoints {
  readonly frequencyHz: Float64Array;
  readonly warped: Float64Array;
  readonly cap: Float64Array;
  /** The point of the cap's own grid below each. */
  readonly cell: Int32Array;
  /** Evenly spaced, so that a summit between points can be told from its neighbours. */
  readonly even: boolean;
}

const denseGrids = new WeakMap<FitProblem, CheckPoints>();

/** The same for every bank, and asked for often; kept as long as its problem. */
function denseGrid(problem: FitProblem): CheckPoints {
  const known = denseGrids.get(problem);
  if (known) return known;
  const nyquist = problem.sampleRateHz / 2;
  const count = Math.floor(log2(nyquist / LOWEST_HZ) * POINTS_PER_OCTAVE);
  const frequencyHz = Float64Array.from({ length: count + 2 }, (_, i) =>
    i > count ? nyquist : LOWEST_HZ * pow2(i / POINTS_PER_OCTAVE),
  );
  const grid = checkPoints(problem, frequencyHz, true);
  denseGrids.set(problem, grid);
  return grid;
}

/** The bands' own centres and what lies next to them. */
function pointsAround(problem: FitProblem, bands: Bands): CheckPoints {
  const nyquist = problem.sampleRateHz / 2;
  const around = filtersFromBands(bands).flatMap(({ frequencyHz, q }) =>
    [-1, -0.5, 0, 0.5, 1].map((k) => frequencyHz * pow2(k / (8 * q))),
  );
  return checkPoints(problem, Float64Array.from(around.filter((hz) => hz < nyquist)), false);
}

function checkPoints(problem: FitProblem, frequencyHz: Float64Array, even: boolean): CheckPoints {
  return {
    frequencyHz,
    warped: frequencyHz.map((hz) => tan((Math.PI * hz) / problem.sampleRateHz) ** 2),
    cap: frequencyHz.map((hz) => capAt(problem, hz)),
    cell: Int32Array.from(frequencyHz, (hz) => Math.max(0, lowerIndex(problem.capFrequencyHz, hz))),
    even,
  };
}
