import type { Bands } from './bands.js';
import { bankValues, bankValuesAndJacobian } from './bankKernel.js';
import { type FitGrid, lowerEdge } from './fitGrid.js';

/** How hard the soft forms of the limits press. Limits are made exact afterwards (see exactLimits.ts). */
export interface ObjectiveOptions {
  /** Weight of a squared violation relative to the squared error at as many points. */
  readonly penalty: number;
  /** Weight of the squared EQ itself: among equal errors the smaller EQ wins. */
  readonly restraint: number;
  /** Weight of the squared mean of the EQ: loudness is not given away for next to nothing. */
  readonly levelRestraint: number;
  readonly maxLevelLossDb: number;
  /** The target's level where it is given; else the level is separable and taken out as the weighted mean. */
  readonly levelDb?: number;
}

/**
 * The sum of squares that the refinement lowers, for banks of up to `maxBands`:
 *
 *   Σ w (deviation + EQ − level)² + restraint Σ w EQ² + level restraint (mean EQ)² + penalty Σ violation²
 *
 * with violations of the caps, of the floors in protected zones, and of the greatest level loss.
 * Work arrays are allocated once; the functions below overwrite them.
 */
export interface Objective {
  readonly grid: FitGrid;
  readonly options: ObjectiveOptions;
  readonly eqDb: Float64Array;
  readonly jacobian: Float64Array;
  readonly residual: Float64Array;
  readonly normalMatrix: Float64Array;
  readonly gradient: Float64Array;
  readonly weightedJacobian: Float64Array;
  readonly meanJacobian: Float64Array;
  /** Sum in dB of bands that stay as they are while others move; 0 where all move. */
  readonly backgroundDb: Float64Array;
}

export function createObjective(grid: FitGrid, maxBands: number, options: ObjectiveOptions): Objective {
  const points = grid.frequencyHz.length;
  const free = 3 * maxBands;
  return {
    grid,
    options,
    eqDb: new Float64Array(points),
    jacobian: new Float64Array(points * free),
    residual: new Float64Array(grid.errorPoints),
    normalMatrix: new Float64Array(free * free),
    gradient: new Float64Array(free),
    weightedJacobian: new Float64Array(grid.errorPoints * free),
    meanJacobian: new Float64Array(free),
    backgroundDb: new Float64Array(points),
  };
}

/** The objective's value; leaves `eqDb` and `residual` behind. */
export function objectiveValue(objective: Objective, bands: Bands): number {
  const { grid, eqDb } = objective;
  bankValues(bands.types, bands.values, grid.warped, grid.sampleRateHz, eqDb);
  addBackground(objective);
  return errorPart(objective) + penaltyPart(objective);
}

function addBackground({ eqDb, backgroundDb }: Objective): void {
  for (let p = 0; p < eqDb.length; p++) eqDb[p]! += backgroundDb[p]!;
}

/** Squared error alone, dB², of the state left by the last evaluation. */
export function squaredError(objective: Objective): number {
  const { weight } = objective.grid;
  let sum = 0;
  for (let p = 0; p < objective.residual.length; p++) sum += weight[p]! * objective.residual[p]! ** 2;
  return sum;
}

/** Level about which the residual of the last evaluation was taken. */
export function levelOf({ grid, eqDb, options }: Objective): number {
  if (options.levelDb !== undefined) return options.levelDb;
  let level = 0;
  for (let p = 0; p < grid.errorPoints; p++) level += grid.weight[p]! * (grid.deviationDb[p]! + eqDb[p]!);
  return level;
}

function errorPart(objective: Objective): number {
  const { grid, eqDb, residual, options } = objective;
  const level = levelOf(objective);
  let sum = 0;
  for (let p = 0; p < grid.errorPoints; p++) {
    const r = grid.deviationDb[p]! + eqDb[p]! - level;
    residual[p] = r;
    sum += grid.weight[p]! * (r * r + options.restraint * eqDb[p]! * eqDb[p]!);
  }
  return sum;
}

function penaltyPart(objective: Objective): number {
  let sum = 0;
  forEachViolation(objective, (scale, violation) => {
    sum += scale * violation * violation;
  });
  const { penalty, levelRestraint, maxLevelLossDb } = objective.options;
  const mean = meanEq(objective);
  const loss = Math.max(0, -maxLevelLossDb - mean);
  return sum + levelRestraint * mean * mean + penalty * loss * loss;
}

/** Mean of the EQ over the range in dB, every octave weighing the same. */
export function meanEq({ grid, eqDb }: Objective): number {
  let mean = 0;
  for (let p = 0; p < grid.errorPoints; p++) mean += grid.meanShare[p]! * eqDb[p]!;
  return mean;
}

/**
 * Calls back for every violated limit: `violation` > 0 in dB, which grows with the EQ at `point` by `sign` and, for a
 * zone's floor, falls with the EQ at the zone's lower edge `edge`.
 */
function forEachViolation(
  { grid, eqDb, options }: Objective,
  found: (scale: number, violation: number, sign: 1 | -1, point: number, edge: number) => void,
): void {
  const scale = options.penalty / grid.errorPoints;
  const points = eqDb.length;
  for (let p = 0; p < points; p++) {
    const over = eqDb[p]! - grid.capDb[p]!;
    if (over > 0) found(scale, over, 1, p, -1);
  }
  for (const zone of grid.zones) {
    const edge = lowerEdge(zone, eqDb);
    const floor = eqDb[edge]! - zone.maxFallDb;
    for (const p of zone.inside) {
      const under = floor - eqDb[p]!;
      if (under > 0) found(scale, under, -1, p, edge);
    }
  }
}

/**
 * The objective's value with its gradient (half of it, Jᵀr) and the Gauss–Newton matrix JᵀJ in the lower triangle of
 * `normalMatrix` (row length 3n).
 */
export function normalEquations(objective: Objective, bands: Bands): number {
  const { grid, eqDb, jacobian } = objective;
  bankValuesAndJacobian(bands.types, bands.values, grid.warped, grid.sampleRateHz, eqDb, jacobian);
  addBackground(objective);
  const value = errorPart(objective) + penaltyPart(objective);
  const n = bands.values.length;
  weighJacobian(objective, n);
  for (let band = 0; band < bands.types.length; band++) {
    for (let other = 0; other <= band; other++) addBlock(objective, n, 3 * band, 3 * other);
  }
  addPenalties(objective, n);
  return value;
}

/** Fills `weightedJacobian`, `meanJacobian` and the error's part of the gradient. */
function weighJacobian(objective: Objective, n: number): void {
  const { grid, eqDb, jacobian, residual, gradient, weightedJacobian, meanJacobian, options } = objective;
  const points = eqDb.length;
  const m = grid.errorPoints;
  const { weight } = grid;
  for (let j = 0; j < n; j++) {
    const row = j * points;
    const weighted = j * m;
    let mean = 0;
    let slope = 0;
    let restraint = 0;
    for (let p = 0; p < m; p++) {
      const wj = weight[p]! * jacobian[row + p]!;
      weightedJacobian[weighted + p] = wj;
      mean += wj;
      slope += wj * residual[p]!;
      restraint += wj * eqDb[p]!;
    }
    meanJacobian[j] = mean;
    gradient[j] = slope + options.restraint * restraint;
  }
}

/** The 3 × 3 block of JᵀWJ between two bands. Nine sums at a time keep the processor busy; one at a time would wait. */
function addBlock(objective: Objective, n: number, j: number, i: number): void {
  const { grid, eqDb, jacobian, weightedJacobian, normalMatrix } = objective;
  const m = grid.errorPoints;
  const points = eqDb.length;
  const [w0, w1, w2] = [j * m, (j + 1) * m, (j + 2) * m];
  const [r0, r1, r2] = [i * points, (i + 1) * points, (i + 2) * points];
  let s00 = 0;
  let s01 = 0;
  let s02 = 0;
  let s10 = 0;
  let s11 = 0;
  let s12 = 0;
  let s20 = 0;
  let s21 = 0;
  let s22 = 0;
  for (let p = 0; p < m; p++) {
    const a0 = weightedJacobian[w0 + p]!;
    const a1 = weightedJacobian[w1 + p]!;
    const a2 = weightedJacobian[w2 + p]!;
    const b0 = jacobian[r0 + p]!;
    const b1 = jacobian[r1 + p]!;
    const b2 = jacobian[r2 + p]!;
    s00 += a0 * b0;
    s01 += a0 * b1;
    s02 += a0 * b2;
    s10 += a1 * b0;
    s11 += a1 * b1;
    s12 += a1 * b2;
    s20 += a2 * b0;
    s21 += a2 * b1;
    s22 += a2 * b2;
  }
  normalMatrix[j * n + i] = centred(objective, s00, j, i);
  normalMatrix[j * n + i + 1] = centred(objective, s01, j, i + 1);
  normalMatrix[j * n + i + 2] = centred(objective, s02, j, i + 2);
  normalMatrix[(j + 1) * n + i] = centred(objective, s10, j + 1, i);
  normalMatrix[(j + 1) * n + i + 1] = centred(objective, s11, j + 1, i + 1);
  normalMatrix[(j + 1) * n + i + 2] = centred(objective, s12, j + 1, i + 2);
  normalMatrix[(j + 2) * n + i] = centred(objective, s20, j + 2, i);
  normalMatrix[(j + 2) * n + i + 1] = centred(objective, s21, j + 2, i + 1);
  normalMatrix[(j + 2) * n + i + 2] = centred(objective, s22, j + 2, i + 2);
}

/** Takes the free level out of an entry of JᵀWJ and adds the restraint's share. */
function centred({ options, meanJacobian }: Objective, sum: number, j: number, i: number): number {
  const whole = sum * (1 + options.restraint);
  return options.levelDb === undefined ? whole - meanJacobian[j]! * meanJacobian[i]! : whole;
}

function addPenalties(objective: Objective, n: number): void {
  const { grid, eqDb, jacobian, normalMatrix, gradient, options } = objective;
  const points = eqDb.length;
  const row = new Float64Array(n);
  const add = (scale: number, violation: number) => {
    for (let j = 0; j < n; j++) {
      const sj = scale * row[j]!;
      gradient[j]! += sj * violation;
      for (let i = 0; i <= j; i++) normalMatrix[j * n + i]! += sj * row[i]!;
    }
  };
  forEachViolation(objective, (scale, violation, sign, point, edge) => {
    for (let j = 0; j < n; j++) {
      row[j] = sign * jacobian[j * points + point]! + (edge < 0 ? 0 : jacobian[j * points + edge]!);
    }
    add(scale, violation);
  });
  for (let j = 0; j < n; j++) {
    let mean = 0;
    for (let p = 0; p < grid.errorPoints; p++) mean += grid.meanShare[p]! * jacobian[j * points + p]!;
    row[j] = mean;
  }
  const mean = meanEq(objective);
  add(options.levelRestraint, mean);
  if (mean < -options.maxLevelLossDb) add(options.penalty, mean + options.maxLevelLossDb);
}
