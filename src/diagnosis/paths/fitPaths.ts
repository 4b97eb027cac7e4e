import {
  cholesky,
  inverseFromCholesky,
  solveLower,
  solveLowerTransposed,
} from '../../elementary/cholesky.js';
import { exp } from '../../elementary/exponential.js';
import { log, log1p } from '../../elementary/logarithm.js';
import { PARAMETERS_PER_PATH, type PathPair, sumPaths } from './pathModel.js';
import type { PathProblem } from './pathProblem.js';

/** What is held of a path before the curve is looked at. */
export interface PathPrior {
  /** Of ln Δ: the middle, and the scale of a Student distribution with few degrees of freedom; Infinity: anything. */
  readonly lnDifference: number;
  readonly lnDifferenceScale: number;
  /** Of ln strength at the knots. */
  readonly lnStrength: readonly number[];
  /** Inverse covariance of ln strength at the knots, row by row. */
  readonly strengthPrecision: Float64Array;
}

export interface FitPathsOptions {
  readonly pairs?: readonly PathPair[];
  readonly maxRounds?: number;
}

export interface PathFit {
  /** As `sumPaths` takes them, one path after another. */
  readonly parameters: Float64Array;
  readonly levelDb: Float64Array;
  /** Squared whitened residual plus what the priors charge. */
  readonly cost: number;
  readonly dataCost: number;
  /** Factor of the curvature of cost/2, for the uncertainty of anything made from the parameters. */
  readonly curvature: Float64Array;
}

/** A round that lowers the cost by less ends the fit. */
const LEAST_GAIN = 0.05;
const STUDENT_DEGREES = 3;
/** Outside of these the fit would describe no reflection of a room: 5 cm to 15 m. */
const LN_DIFFERENCE: readonly [number, number] = [log(0.05), log(15)];
const LN_STRENGTH: readonly [number, number] = [log(0.005), log(1.8)];

/** Covariance of ln strength: a part common to all knots and a part that fades over the distance between knots. */
export function strengthPrecision(knots: number, common: number, single: number): Float64Array {
  const covariance = new Float64Array(knots * knots);
  for (let i = 0; i < knots; i++) {
    for (let j = 0; j < knots; j++) {
      covariance[i * knots + j] = common * common + single * single * exp(-Math.abs(i - j) / 1.5);
    }
  }
  return inverseFromCholesky(cholesky(covariance, knots), knots);
}

/**
 * Strengths and path differences of all paths together by least squares against a curve (Levenberg and Marquardt),
 * the speaker's own response being whatever `whitener` holds probable.
 */
export function fitPaths(
  problem: PathProblem,
  priors: readonly PathPrior[],
  start: ArrayLike<number>,
  { pairs = [], maxRounds = 15 }: FitPathsOptions = {},
): PathFit {
  const { levelDb, whitener } = problem;
  const size = priors.length * PARAMETERS_PER_PATH;
  const target = whitener.whiten(levelDb);
  let parameters: Float64Array = Float64Array.from(start);
  let state = evaluate(problem, target, priors, pairs, parameters);
  let damping = 1e-2;
  for (let round = 0; round < maxRounds; round++) {
    const { gradient, hessian } = state.normal();
    let improved = false;
    for (let attempt = 0; attempt < 5; attempt++) {
      const damped = hessian.slice();
      for (let i = 0; i < size; i++) damped[i * size + i]! += damping * (hessian[i * size + i]! + 1);
      const lower = cholesky(damped, size);
      const step = solveLowerTransposed(lower, solveLower(lower, gradient));
      const trial = clampParameters(parameters.map((v, i) => v + Math.max(-0.7, Math.min(0.7, step[i]!))));
      const next = evaluate(problem, target, priors, pairs, trial);
      if (next.cost < state.cost) {
        improved = state.cost - next.cost > LEAST_GAIN;
        parameters = trial;
        state = next;
        damping = Math.max(1e-6, damping / 5);
        break;
      }
      damping *= 6;
    }
    if (!improved) break;
  }
  return {
    parameters,
    levelDb: state.levelDb,
    cost: state.cost,
    dataCost: state.dataCost,
    curvature: cholesky(state.normal().hessian, size),
  };
}

function clampParameters(parameters: Float64Array): Float64Array {
  return parameters.map((v, i) => {
    const [low, high] = i % PARAMETERS_PER_PATH === 0 ? LN_DIFFERENCE : LN_STRENGTH;
    return Math.min(high, Math.max(low, v));
  });
}

function evaluate(
  { whitener, grid }: PathProblem,
  target: Float64Array,
  priors: readonly PathPrior[],
  pairs: readonly PathPair[],
  parameters: Float64Array,
) {
  const size = parameters.length;
  const sum = sumPaths(grid, parameters, pairs);
  const { levelDb } = sum;
  const modelled = whitener.whiten(levelDb);
  const residual = target.map((t, i) => t - modelled[i]!);
  let dataCost = 0;
  for (const r of residual) dataCost += r * r;
  let cost = dataCost;
  priors.forEach((prior, p) => {
    cost += priorCost(prior, parameters, p * PARAMETERS_PER_PATH);
  });

  const normal = () => {
    const columns = sum.derivatives().map((d) => whitener.whiten(d));
    const gradient = new Float64Array(size);
    const hessian = new Float64Array(size * size);
    for (let i = 0; i < size; i++) {
      gradient[i] = dot(columns[i]!, residual);
      for (let j = 0; j <= i; j++) {
        const h = dot(columns[i]!, columns[j]!);
        hessian[i * size + j] = h;
        hessian[j * size + i] = h;
      }
    }
    priors.forEach((prior, p) => {
      addPrior(prior, parameters, p * PARAMETERS_PER_PATH, gradient, hessian, size);
    });
    return { gradient, hessian };
  };
  return { levelDb, cost, dataCost, normal };
}

/** −2·ln of the prior probability of the path whose parameters start at `base`, but for a constant. */
export function priorCost(prior: PathPrior, parameters: Float64Array, base: number): number {
  let cost = 0;
  if (Number.isFinite(prior.lnDifferenceScale)) {
    const z = (parameters[base]! - prior.lnDifference) / prior.lnDifferenceScale;
    cost += (STUDENT_DEGREES + 1) * log1p((z * z) / STUDENT_DEGREES);
  }
  const k = prior.lnStrength.length;
  for (let i = 0; i < k; i++) {
    for (let j = 0; j < k; j++) {
      cost +=
        prior.strengthPrecision[i * k + j]! *
        (parameters[base + 1 + i]! - prior.lnStrength[i]!) *
        (parameters[base + 1 + j]! - prior.lnStrength[j]!);
    }
  }
  return cost;
}

function addPrior(
  prior: PathPrior,
  parameters: Float64Array,
  base: number,
  gradient: Float64Array,
  hessian: Float64Array,
  size: number,
): void {
  if (Number.isFinite(prior.lnDifferenceScale)) {
    const z = (parameters[base]! - prior.lnDifference) / prior.lnDifferenceScale;
    // The Student distribution as a normal one whose weight falls with distance.
    const weight = (STUDENT_DEGREES + 1) / (STUDENT_DEGREES + z * z) / prior.lnDifferenceScale ** 2;
    gradient[base]! -= weight * (parameters[base]! - prior.lnDifference);
    hessian[base * size + base]! += weight;
  }
  // A path too faint to show its length leaves that undecided; this keeps the equations solvable.
  hessian[base * size + base]! += 1e-3;
  const k = prior.lnStrength.length;
  for (let i = 0; i < k; i++) {
    for (let j = 0; j < k; j++) {
      const precision = prior.strengthPrecision[i * k + j]!;
      gradient[base + 1 + i]! -= precision * (parameters[base + 1 + j]! - prior.lnStrength[j]!);
      hessian[(base + 1 + i) * size + base + 1 + j]! += precision;
    }
  }
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}
