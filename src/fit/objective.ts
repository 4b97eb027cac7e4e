import type { Bands } from './bands.js';
import { bankValues, scaledJacobian } from './bankKernel.js';
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
  readonly residual: Float64Array;
  /** Lower triangle, row length 3n. */
  readonly normalMatrix: Float64Array;
  readonly gradient: Float64Array;
  /** Sum in dB of bands that stay as they are while others move; 0 where all move. */
  readonly backgroundDb: Float64Array;
  readonly work: Work;
}

/** What `linearize` works on: the points that have a say at present, side by side. */
interface Work {
  /** Squared prewarped frequency, root of the weight, and pull (weighted violation over that root) of each. */
  readonly warped: Float64Array;
  readonly root: Float64Array;
  readonly pull: Float64Array;
  /** What a scaled derivative counts in the weighted mean and in the mean over the range. */
  readonly inLevel: Float64Array;
  readonly inMean: Float64Array;
  /** Where a grid point lies among them. */
  readonly place: Int32Array;
  /** Derivatives times the root of the weight: 3n rows. */
  readonly jacobian: Float64Array;
  readonly levelJacobian: Float64Array;
  readonly meanJacobian: Float64Array;
  readonly row: Float64Array;
  readonly free: Int32Array;
  readonly step: Float64Array;
  readonly factor: Float64Array;
}

export function createObjective(grid: FitGrid, maxBands: number, options: ObjectiveOptions): Objective {
  const points = grid.frequencyHz.length;
  const free = 3 * maxBands;
  const perPoint = () => new Float64Array(points);
  const perNumber = () => new Float64Array(free);
  return {
    grid,
    options,
    eqDb: perPoint(),
    residual: new Float64Array(grid.errorPoints),
    normalMatrix: new Float64Array(free * free),
    gradient: perNumber(),
    backgroundDb: perPoint(),
    work: {
      warped: perPoint(),
      root: perPoint(),
      pull: perPoint(),
      inLevel: perPoint(),
      inMean: perPoint(),
      place: new Int32Array(points),
      jacobian: new Float64Array(points * free),
      levelJacobian: perNumber(),
      meanJacobian: perNumber(),
      row: perNumber(),
      free: new Int32Array(free),
      step: perNumber(),
      factor: new Float64Array(free * free + free),
    },
  };
}

/** The objective's value; leaves `eqDb` and `residual` behind. */
export function objectiveValue(objective: Objective, bands: Bands): number {
  const { grid, eqDb, backgroundDb } = objective;
  bankValues(bands.types, bands.values, grid.warped, grid.sampleRateHz, eqDb);
  for (let p = 0; p < eqDb.length; p++) eqDb[p]! += backgroundDb[p]!;
  return errorPart(objective) + penaltyPart(objective);
}

/** The value of the sum that stands in `backgroundDb`, without any bands. */
export function valueOfSum(objective: Objective): number {
  objective.eqDb.set(objective.backgroundDb);
  return errorPart(objective) + penaltyPart(objective);
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
  const { weight, deviationDb, errorPoints } = grid;
  const level = levelOf(objective);
  let sum = 0;
  for (let p = 0; p < errorPoints; p++) {
    const eq = eqDb[p]!;
    const r = deviationDb[p]! + eq - level;
    residual[p] = r;
    sum += weight[p]! * (r * r + options.restraint * eq * eq);
  }
  return sum;
}

function penaltyPart(objective: Objective): number {
  const { grid, eqDb, options } = objective;
  const { penalty, levelRestraint, maxLevelLossDb } = options;
  let squares = 0;
  for (let p = 0; p < eqDb.length; p++) {
    const over = eqDb[p]! - grid.capDb[p]!;
    if (over > 0) squares += over * over;
  }
  for (const zone of grid.zones) {
    const floor = eqDb[lowerEdge(zone, eqDb)]! - zone.maxFallDb;
    for (const p of zone.inside) {
      const under = floor - eqDb[p]!;
      if (under > 0) squares += under * under;
    }
  }
  const mean = meanEq(objective);
  const loss = Math.max(0, -maxLevelLossDb - mean);
  return (penalty / grid.errorPoints) * squares + levelRestraint * mean * mean + penalty * loss * loss;
}

/** Mean of the EQ over the range in dB, every octave weighing the same. */
export function meanEq({ grid, eqDb }: Objective): number {
  let mean = 0;
  for (let p = 0; p < grid.errorPoints; p++) mean += grid.meanShare[p]! * eqDb[p]!;
  return mean;
}

/**
 * The objective's value with its gradient (half of it, Jᵀr) and the Gauss–Newton matrix JᵀJ in the lower triangle of
 * `normalMatrix` (row length 3n).
 */
export function normalEquations(objective: Objective, bands: Bands): number {
  const value = objectiveValue(objective, bands);
  linearize(objective, bands);
  return value;
}

/** Weight of a point that only counts in a mean or as a zone's edge: its derivatives are needed, its error is not. */
const NO_WEIGHT = 1e-15;

/**
 * Gradient and Gauss–Newton matrix where `objectiveValue` was last taken. A cap that gives way adds to the weight and
 * the pull of its point, so that it costs nothing more; points without any say are left out.
 */
export function linearize(objective: Objective, bands: Bands): void {
  const { grid, normalMatrix, gradient, options, work } = objective;
  const count = gatherPoints(objective);
  const n = bands.values.length;
  scaledJacobian(bands, work.warped, work.root, count, grid.sampleRateHz, work.jacobian);
  for (let j = 0; j < n; j += 3) addSums(objective, j, count);
  for (let j = 0; j < n; j += 3)
    for (let i = 0; i <= j; i += 3) addBlock(work.jacobian, count, normalMatrix, n, j, i);
  const mean = meanEq(objective);
  if (options.levelDb === undefined) addRow(normalMatrix, work.levelJacobian, n, -1);
  const lost = mean < -options.maxLevelLossDb ? options.penalty : 0;
  addRow(normalMatrix, work.meanJacobian, n, options.levelRestraint + lost);
  const slope = options.levelRestraint * mean + lost * (mean + options.maxLevelLossDb);
  for (let j = 0; j < n; j++) gradient[j]! += slope * work.meanJacobian[j]!;
  if (grid.zones.length > 0) addZoneFloors(objective, n, count);
}

/** Puts the points that have a say side by side in `work`; returns how many. */
function gatherPoints({ grid, eqDb, residual, options, work }: Objective): number {
  const { weight, capDb, meanShare, errorPoints, zones } = grid;
  const { restraint } = options;
  const scale = options.penalty / errorPoints;
  if (zones.length > 0) markZones(grid, eqDb, work.place);
  let count = 0;
  for (let p = 0; p < eqDb.length; p++) {
    const eq = eqDb[p]!;
    const over = eq - capDb[p]!;
    const inRange = p < errorPoints;
    const share = inRange ? meanShare[p]! : 0;
    const w = inRange ? weight[p]! : 0;
    const marked = zones.length > 0 && work.place[p] === 1;
    if (w === 0 && over <= 0 && share === 0 && !marked) continue;
    let total = w * (1 + restraint);
    let pull = inRange ? w * (residual[p]! + restraint * eq) : 0;
    if (over > 0) {
      total += scale;
      pull += scale * over;
    }
    const root = Math.sqrt(Math.max(total, NO_WEIGHT));
    work.warped[count] = grid.warped[p]!;
    work.root[count] = root;
    work.pull[count] = pull / root;
    work.inLevel[count] = w / root;
    work.inMean[count] = share / root;
    work.place[p] = count++;
  }
  return count;
}

/** Marks in `place` by 1 what a zone whose floor gives way needs, the rest by 0. */
function markZones({ zones }: FitGrid, eqDb: Float64Array, place: Int32Array): void {
  place.fill(0);
  for (const zone of zones) {
    const edge = lowerEdge(zone, eqDb);
    const floor = eqDb[edge]! - zone.maxFallDb;
    for (const p of zone.inside) {
      if (floor > eqDb[p]!) {
        place[p] = 1;
        place[edge] = 1;
      }
    }
  }
}

/** Gradient and means of the derivatives by the three numbers of a band. */
function addSums({ gradient, work }: Objective, j: number, count: number): void {
  const { jacobian, pull, inLevel, inMean, levelJacobian, meanJacobian } = work;
  const a = j * count;
  const b = a + count;
  const c = b + count;
  let ga = 0;
  let gb = 0;
  let gc = 0;
  let la = 0;
  let lb = 0;
  let lc = 0;
  let ma = 0;
  let mb = 0;
  let mc = 0;
  for (let p = 0; p < count; p++) {
    const ja = jacobian[a + p]!;
    const jb = jacobian[b + p]!;
    const jc = jacobian[c + p]!;
    const r = pull[p]!;
    const l = inLevel[p]!;
    const m = inMean[p]!;
    ga += ja * r;
    gb += jb * r;
    gc += jc * r;
    la += ja * l;
    lb += jb * l;
    lc += jc * l;
    ma += ja * m;
    mb += jb * m;
    mc += jc * m;
  }
  gradient[j] = ga;
  gradient[j + 1] = gb;
  gradient[j + 2] = gc;
  levelJacobian[j] = la;
  levelJacobian[j + 1] = lb;
  levelJacobian[j + 2] = lc;
  meanJacobian[j] = ma;
  meanJacobian[j + 1] = mb;
  meanJacobian[j + 2] = mc;
}

/** The 3 × 3 block of JᵀJ between two bands. Nine sums at a time keep the processor busy; one at a time would wait. */
function addBlock(
  jacobian: Float64Array,
  count: number,
  matrix: Float64Array,
  n: number,
  j: number,
  i: number,
): void {
  const [a, d] = [j * count, i * count];
  const b = a + count;
  const c = b + count;
  const e = d + count;
  const f = e + count;
  let s00 = 0;
  let s01 = 0;
  let s02 = 0;
  let s10 = 0;
  let s11 = 0;
  let s12 = 0;
  let s20 = 0;
  let s21 = 0;
  let s22 = 0;
  for (let p = 0; p < count; p++) {
    const a0 = jacobian[a + p]!;
    const a1 = jacobian[b + p]!;
    const a2 = jacobian[c + p]!;
    const b0 = jacobian[d + p]!;
    const b1 = jacobian[e + p]!;
    const b2 = jacobian[f + p]!;
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
  const row = j * n + i;
  matrix[row] = s00;
  matrix[row + 1] = s01;
  matrix[row + 2] = s02;
  matrix[row + n] = s10;
  matrix[row + n + 1] = s11;
  matrix[row + n + 2] = s12;
  matrix[row + 2 * n] = s20;
  matrix[row + 2 * n + 1] = s21;
  matrix[row + 2 * n + 2] = s22;
}

/** Adds scale · row rowᵀ to the lower triangle. */
function addRow(matrix: Float64Array, row: Float64Array, n: number, scale: number): void {
  for (let j = 0; j < n; j++) {
    const sj = scale * row[j]!;
    const at = j * n;
    for (let i = 0; i <= j; i++) matrix[at + i]! += sj * row[i]!;
  }
}

function addZoneFloors(
  { grid, eqDb, options, normalMatrix, gradient, work }: Objective,
  n: number,
  count: number,
): void {
  const { jacobian, root, place, row } = work;
  const scale = options.penalty / grid.errorPoints;
  for (const zone of grid.zones) {
    const edge = lowerEdge(zone, eqDb);
    const floor = eqDb[edge]! - zone.maxFallDb;
    for (const p of zone.inside) {
      const under = floor - eqDb[p]!;
      if (!(under > 0)) continue;
      const [at, from] = [place[p]!, place[edge]!];
      for (let j = 0; j < n; j++) {
        row[j] = jacobian[j * count + from]! / root[from]! - jacobian[j * count + at]! / root[at]!;
        gradient[j]! += scale * under * row[j]!;
      }
      addRow(normalMatrix, row, n, scale);
    }
  }
}
