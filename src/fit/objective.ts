import type { Bands } from './bands.js';
import { bankValues, type Reach, scaledJacobian } from './bankKernel.js';
import { type FitGrid, lowerEdge } from './fitGrid.js';
import { addBlock, addRow } from './normalMatrix.js';
import { findReach, reachAll } from './reach.js';

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
  /** Derivatives of peaks are cut to where they matter: a search gets on faster, and a finish wants them whole. */
  readonly cutToReach?: boolean;
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
  /** Which of these points each band's derivatives reach. */
  readonly reach: Reach;
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
      reach: { from: new Int32Array(maxBands), to: new Int32Array(maxBands), ascending: 0 },
    },
  };
}

/** The objective's value; leaves `eqDb` and `residual` behind. */
export function objectiveValue(objective: Objective, bands: Bands): number {
  const { grid, eqDb, backgroundDb } = objective;
  bankValues(bands.types, bands.values, grid.warped, grid.sampleRateHz, eqDb);
  for (let p = 0; p < eqDb.length; p++) eqDb[p]! += backgroundDb[p]!;
  return valueOfEq(objective);
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

/** The whole value of the sum that stands in `eqDb`; leaves `residual` behind. */
function valueOfEq(objective: Objective): number {
  const { grid, eqDb, residual, options } = objective;
  const { weight, deviationDb, capDb, meanShare, errorPoints } = grid;
  const { penalty, restraint, levelRestraint, maxLevelLossDb } = options;
  const level = levelOf(objective);
  let sum = 0;
  let mean = 0;
  let squares = 0;
  for (let p = 0; p < errorPoints; p++) {
    const eq = eqDb[p]!;
    const r = deviationDb[p]! + eq - level;
    residual[p] = r;
    sum += weight[p]! * (r * r + restraint * eq * eq);
    mean += meanShare[p]! * eq;
    const over = eq - capDb[p]!;
    if (over > 0) squares += over * over;
  }
  for (let p = errorPoints; p < eqDb.length; p++) {
    const over = eqDb[p]! - capDb[p]!;
    if (over > 0) squares += over * over;
  }
  for (const zone of grid.zones) {
    const floor = eqDb[lowerEdge(zone, eqDb)]! - zone.maxFallDb;
    for (const p of zone.inside) {
      const under = floor - eqDb[p]!;
      if (under > 0) squares += under * under;
    }
  }
  const loss = Math.max(0, -maxLevelLossDb - mean);
  return sum + (penalty / errorPoints) * squares + levelRestraint * mean * mean + penalty * loss * loss;
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
  const { reach, jacobian } = work;
  if (options.cutToReach) {
    findReach(bands, work.warped, grid.sampleRateHz, reach);
    scaledJacobian(bands, work.warped, work.root, count, grid.sampleRateHz, jacobian, reach);
  } else {
    reachAll(reach, count);
    scaledJacobian(bands, work.warped, work.root, count, grid.sampleRateHz, jacobian);
  }
  normalMatrix.fill(0, 0, n * n);
  for (let k = 0; 3 * k < n; k++) {
    addSums(objective, 3 * k, count, reach.from[k]!, reach.to[k]!);
    for (let i = 0; i <= k; i++) {
      const from = Math.max(reach.from[k]!, reach.from[i]!);
      const to = Math.min(reach.to[k]!, reach.to[i]!);
      if (from < to) addBlock(jacobian, count, normalMatrix, n, 3 * k, 3 * i, from, to);
      if (reach.ascending < count)
        addBlock(jacobian, count, normalMatrix, n, 3 * k, 3 * i, reach.ascending, count);
    }
  }
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
    if (inRange) work.reach.ascending = count;
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
function addSums({ gradient, work }: Objective, j: number, count: number, from: number, to: number): void {
  const { jacobian, pull, inLevel, inMean, levelJacobian, meanJacobian, reach } = work;
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
  for (let p = from; p < to; p++) {
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
  // Beyond the range only a limit that gives way counts.
  for (let p = reach.ascending; p < count; p++) {
    const r = pull[p]!;
    ga += jacobian[a + p]! * r;
    gb += jacobian[b + p]! * r;
    gc += jacobian[c + p]! * r;
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
