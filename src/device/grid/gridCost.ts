import type { FitGrid } from '../../fit/problem/fitGrid.js';

/** What a band does at the points of a grid. */
export interface BandResponse {
  readonly responseDb: Float32Array;
  /** Weighted square of the response about its mean, or about 0 where the level is given. */
  readonly spread: number;
}

/**
 * The objective of the fit (see `fit/objective/objective.ts`) for sums of tabulated responses: squared error about the
 * level, and penalties for caps, zones and the level that is given away.
 */
export interface GridCost extends GridCostOptions {
  readonly grid: FitGrid;
  /** Deviation at the points that carry error, 0 at the others: what a bank's responses are added to. */
  readonly startDb: Float64Array;
  /** What a sum may come to before it breaks the cap. */
  readonly ceilingDb: Float64Array;
  readonly meanOfStartDb: number;
}

export interface GridCostOptions {
  /** Free where undefined. */
  readonly levelDb: number | undefined;
  readonly maxLevelLossDb: number;
  /** Weight of a squared violation relative to the squared error at as many points. */
  readonly penalty: number;
  readonly levelRestraint: number;
}

export function createGridCost(grid: FitGrid, options: GridCostOptions): GridCost {
  const startDb = new Float64Array(grid.frequencyHz.length);
  startDb.set(grid.deviationDb);
  return {
    ...options,
    grid,
    startDb,
    ceilingDb: startDb.map((db, p) => db + grid.capDb[p]!),
    meanOfStartDb: grid.meanShare.reduce((sum, share, p) => sum + share * startDb[p]!, 0),
  };
}

/** Some bands beside which another is sought. */
export interface GridRest {
  /** `startDb` and the responses of the bands. */
  readonly sumDb: Float64Array;
  /** What remains about the level, times the weight, at the points that carry error. */
  readonly weighted: Float64Array;
  /** Weighted square of what remains. */
  readonly error: number;
}

export function restOf({ grid, levelDb }: GridCost, sumDb: Float64Array): GridRest {
  const { weight, errorPoints } = grid;
  const level = levelDb ?? weightedMean(weight, sumDb);
  const weighted = new Float64Array(errorPoints);
  let error = 0;
  for (let p = 0; p < errorPoints; p++) {
    const remaining = sumDb[p]! - level;
    weighted[p] = weight[p]! * remaining;
    error += weight[p]! * remaining * remaining;
  }
  return { sumDb, weighted, error };
}

function weightedMean(weight: Float64Array, values: Float64Array | Float32Array): number {
  let mean = 0;
  for (let p = 0; p < weight.length; p++) mean += weight[p]! * values[p]!;
  return mean;
}

/** Weighted square of a response about its mean, or about 0 where the level is given. */
export function spreadOf({ grid, levelDb }: GridCost, responseDb: Float32Array): number {
  const { weight, errorPoints } = grid;
  let squares = 0;
  for (let p = 0; p < errorPoints; p++) squares += weight[p]! * responseDb[p]! * responseDb[p]!;
  return levelDb === undefined ? squares - weightedMean(weight, responseDb) ** 2 : squares;
}

/**
 * The objective with one more band.
 *
 * @param enough a value from which on the exact one does not matter
 */
export function costWith(cost: GridCost, rest: GridRest, added: BandResponse, enough: number): number {
  const { weighted } = rest;
  const { responseDb } = added;
  let along = 0;
  for (let p = 0; p < weighted.length; p++) along += weighted[p]! * responseDb[p]!;
  const error = rest.error + 2 * along + added.spread;
  return error >= enough ? error : error + violations(cost, rest.sumDb, responseDb);
}

/** The objective of the bands alone. */
export function costOf(cost: GridCost, rest: GridRest): number {
  return rest.error + violations(cost, rest.sumDb, new Float32Array(rest.sumDb.length));
}

function violations(cost: GridCost, sumDb: Float64Array, addedDb: Float32Array): number {
  const { grid, ceilingDb, penalty, levelRestraint } = cost;
  const { meanShare, errorPoints, zones } = grid;
  let mean = -cost.meanOfStartDb;
  for (let p = 0; p < errorPoints; p++) mean += meanShare[p]! * (sumDb[p]! + addedDb[p]!);
  const loss = Math.max(0, -cost.maxLevelLossDb - mean);
  let broken = 0;
  for (let p = 0; p < ceilingDb.length; p++) {
    const over = sumDb[p]! + addedDb[p]! - ceilingDb[p]!;
    if (over > 0) broken += over * over;
  }
  const eqAt = (p: number) => sumDb[p]! + addedDb[p]! - cost.startDb[p]!;
  for (const { edges, inside, maxFallDb } of zones) {
    const floor = Math.min(eqAt(edges[0]), eqAt(edges[1])) - maxFallDb;
    for (const p of inside) {
      const under = floor - eqAt(p);
      if (under > 0) broken += under * under;
    }
  }
  return levelRestraint * mean * mean + penalty * loss * loss + (penalty / errorPoints) * broken;
}
