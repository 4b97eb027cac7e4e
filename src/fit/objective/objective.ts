import type { Reach } from '../bank/bankKernel.js';
import type { FitGrid } from '../problem/fitGrid.js';

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

/** What `linearize` (see linearize.ts) works on: the points that have a say at present, side by side. */
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
  let work: Work | undefined;
  return {
    grid,
    options,
    eqDb: perPoint(),
    residual: new Float64Array(grid.errorPoints),
    normalMatrix: new Float64Array(free * free),
    gradient: new Float64Array(free),
    backgroundDb: perPoint(),
    // Nobody asks for it where WebAssembly has memory of its own.
    get work() {
      work ??= createWork(points, maxBands);
      return work;
    },
  };
}

function createWork(points: number, maxBands: number): Work {
  const free = 3 * maxBands;
  // Two fillers may come among the points that have a say.
  const perHeld = () => new Float64Array(points + 2);
  const perNumber = () => new Float64Array(free);
  return {
    warped: perHeld(),
    root: perHeld(),
    pull: perHeld(),
    inLevel: perHeld(),
    inMean: perHeld(),
    place: new Int32Array(points),
    jacobian: new Float64Array((points + 2) * free),
    levelJacobian: perNumber(),
    meanJacobian: perNumber(),
    row: perNumber(),
    free: new Int32Array(free),
    step: perNumber(),
    factor: new Float64Array(free * free + free),
    reach: { from: new Int32Array(maxBands), to: new Int32Array(maxBands), ascending: 0 },
  };
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
  const level = new Float64Array(2);
  for (let p = 0; p < grid.errorPoints; p++)
    level[p & 1]! += grid.weight[p]! * (grid.deviationDb[p]! + eqDb[p]!);
  return level[0]! + level[1]!;
}

/** Mean of the EQ over the range in dB, every octave weighing the same. */
export function meanEq({ grid, eqDb }: Objective): number {
  const means = new Float64Array(2);
  for (let p = 0; p < grid.errorPoints; p++) means[p & 1]! += grid.meanShare[p]! * eqDb[p]!;
  return means[0]! + means[1]!;
}
