import { planeGeometry } from '../acoustics/planeGeometry.js';
import type { Setup, Surface } from '../acoustics/setup.js';
import type { PathProblem } from '../diagnosis/paths/pathProblem.js';
import { isBehind } from '../diagnosis/scene/fittedSurface.js';
import { cholesky, inverseFromCholesky, solveLower, solveLowerTransposed } from '../elementary/cholesky.js';
import { exp } from '../elementary/exponential.js';
import { hypot } from '../elementary/power.js';
import {
  type Meeting,
  type MirrorGrid,
  type MirrorPlane,
  mirrorGrid,
  mirrorLevelDb,
  type Radiated,
  radiatedPath,
} from './mirrorModel.js';
import { faces } from './movePlacement.js';

/** What the fit decides: one number for the cabinet, four for each surface, all about 0 and of size 1. */
export interface MirrorFit {
  readonly parameters: Float64Array;
  /** Squared whitened residual plus what the priors charge. */
  readonly cost: number;
  /** Squared whitened residual per point: 1 where the curve is as irregular as the problem has it. */
  readonly misfit: number;
  readonly meetings: readonly Meeting[];
  /** One standard deviation of each parameter. */
  readonly deviations: Float64Array;
  /** Of the later sound over the direct sound's. */
  readonly latePower: number;
}

const PER_PLANE = 4;
/** Half the baffle's width times this is the sphere's radius, and where its centre lies behind the baffle, in radii. */
const RADIUS = 1.1;
const BEHIND = 1.3;
const BEHIND_SPREAD = 0.2;
const USUAL_BAFFLE_M = 0.18;
/**
 * Reflection factors of what stands in rooms, toward low and high frequency, and where they change; common practice, no
 * published source. Spreads are of the natural logarithm.
 */
const LOW = 0.75;
const LOW_SPREAD = 0.45;
const HIGH = 0.55;
const HIGH_SPREAD = 0.45;
const TURN_HZ = 600;
const TURN_SPREAD = 0.8;
const STRONGEST = 1.1;
/** What a tape measure leaves open where no tolerance was given, relative. */
const TAPE_ERROR = 0.05;

/** A null is never deeper than this. */
export const LEAST_LATE = 1e-3;

const WEAK = -1.3;
const ROUNDS = 14;
const LEAST_GAIN = 0.05;
const STEP = 1e-3;

/** Radius in metres of the sphere that stands for a set-up's cabinet. */
export function cabinetRadiusM({ baffleWidthM = USUAL_BAFFLE_M }: Setup): number {
  return (RADIUS * baffleWidthM) / 2;
}

/** How far the sphere's centre lies behind the front baffle, in metres. */
export function centreBehindM(setup: Setup, parameters: ArrayLike<number>): number {
  return cabinetRadiusM(setup) * (BEHIND + BEHIND_SPREAD * parameters[0]!);
}

/** How a set-up's distances from a surface are off, from the fit's parameters. */
export function fittedPlane(
  setup: Setup,
  surface: Surface,
  k: number,
  parameters: ArrayLike<number>,
): MirrorPlane {
  const plane = planeGeometry(setup, surface);
  const base = 1 + k * PER_PLANE;
  const spread = distanceSpread(surface);
  const hs = plane.hs * exp(spread * parameters[base]!);
  return {
    hs,
    hm: isBehind(plane) ? plane.hm + hs - plane.hs : plane.hm * (hs / Math.max(1e-3, plane.hs)),
    low: Math.min(STRONGEST, LOW * exp(LOW_SPREAD * parameters[base + 1]!)),
    high: Math.min(STRONGEST, HIGH * exp(HIGH_SPREAD * parameters[base + 2]!)),
    turnHz: TURN_HZ * exp(TURN_SPREAD * parameters[base + 3]!),
  };
}

/** What is held of a set-up before anything was measured: the middle of every prior. */
export function expectedMirrors(setup: Setup): MirrorFit {
  const size = 1 + PER_PLANE * setup.surfaces.length;
  return {
    parameters: new Float64Array(size),
    deviations: new Float64Array(size).fill(1),
    cost: 0,
    misfit: 0,
    meetings: allMeetings(setup),
    latePower: LEAST_LATE,
  };
}

/** Parameters of surfaces that send back little: another place to begin from. */
export function weakMirrors({ surfaces }: Setup): Float64Array {
  return Float64Array.from([0, ...surfaces.flatMap(() => [0, WEAK, WEAK, 0])]);
}

/** One standard deviation of the speaker's fitted distance, in metres. */
export function distanceDeviationM(
  surface: Surface,
  k: number,
  { parameters, deviations }: MirrorFit,
): number {
  const spread = distanceSpread(surface);
  const base = 1 + k * PER_PLANE;
  return surface.speakerDistance.m * exp(spread * parameters[base]!) * spread * deviations[base]!;
}

function distanceSpread({ speakerDistance: { m, toleranceM } }: Surface): number {
  return hypot(TAPE_ERROR, toleranceM / Math.max(0.05, m));
}

/** Each surface alone, and every two that sound may meet one after the other. */
export function allMeetings(setup: Setup): Meeting[] {
  const { surfaces } = setup;
  const singles = surfaces.map((_, k): Meeting => [k]);
  const doubles = surfaces.flatMap((a, i) =>
    surfaces.slice(i + 1).flatMap((b, j): Meeting[] => (faces(setup, a, b) ? [] : [[i, i + 1 + j]])),
  );
  return [...singles, ...doubles];
}

/**
 * Distances, reflection factors and acoustic centre that explain a curve best (least squares, Levenberg and Marquardt),
 * the speaker's own response being whatever the problem's whitener holds probable.
 *
 * @param latePower see `mirrorLevelDb`
 * @param start parameters to begin from; the middle of the priors where absent
 */
export function fitMirrors(
  problem: PathProblem,
  setup: Setup,
  latePower = LEAST_LATE,
  start?: Float64Array,
): MirrorFit {
  const { whitener, levelDb } = problem;
  const whiten = (values: Float64Array) => whitener.whiten(values);
  const grid = mirrorGrid(problem.grid.frequencyHz, problem.grid.speedOfSoundMs, cabinetRadiusM(setup));
  const scene = { grid, setup, target: whiten(levelDb), whiten, latePower };
  let best = descend(scene, allMeetings(setup), start);
  // Planes that are parallel, or hide each other, have no path by way of both.
  for (const meeting of best.meetings.filter(({ length }) => length > 1)) {
    const meetings = best.meetings.filter((each) => each !== meeting);
    const { cost } = evaluate(scene, meetings, best.parameters);
    if (cost < best.cost) best = { ...best, meetings, cost };
  }
  return descend(scene, best.meetings, best.parameters);
}

type Whiten = (values: Float64Array) => Float64Array;

interface FittedScene {
  readonly grid: MirrorGrid;
  readonly setup: Setup;
  readonly target: Float64Array;
  readonly whiten: Whiten;
  readonly latePower: number;
}

function descend(
  scene: FittedScene,
  meetings: readonly Meeting[],
  start: Float64Array = new Float64Array(1 + PER_PLANE * scene.setup.surfaces.length),
): MirrorFit {
  const size = start.length;
  let parameters = start;
  let state = evaluate(scene, meetings, parameters);
  let damping = 1e-2;
  let deviations = new Float64Array(size).fill(1);
  for (let round = 0; round < ROUNDS; round++) {
    const columns = Array.from({ length: size }, (_, j) => {
      const trial = parameters.slice();
      trial[j]! += STEP;
      const { modelled } = evaluate(scene, meetings, trial, state, j);
      return modelled.map((v, i) => (v - state.modelled[i]!) / STEP);
    });
    const hessian = new Float64Array(size * size);
    const gradient = new Float64Array(size);
    for (let i = 0; i < size; i++) {
      gradient[i] = dot(columns[i]!, state.residual) - parameters[i]!;
      for (let j = 0; j <= i; j++) {
        const h = dot(columns[i]!, columns[j]!) + (i === j ? 1 : 0);
        hessian[i * size + j] = h;
        hessian[j * size + i] = h;
      }
    }
    deviations = deviationsOf(hessian, size);
    let improved = false;
    for (let attempt = 0; attempt < 5 && !improved; attempt++) {
      const damped = hessian.slice();
      for (let i = 0; i < size; i++) damped[i * size + i]! *= 1 + damping;
      const lower = cholesky(damped, size);
      const step = solveLowerTransposed(lower, solveLower(lower, gradient));
      const trial = parameters.map((v, i) => v + Math.max(-1.5, Math.min(1.5, step[i]!)));
      const next = evaluate(scene, meetings, trial);
      if (next.cost < state.cost - LEAST_GAIN) {
        parameters = trial;
        state = next;
        damping = Math.max(1e-6, damping / 5);
        improved = true;
      } else damping *= 6;
    }
    if (!improved) break;
  }
  const misfit = dot(state.residual, state.residual) / state.residual.length;
  return { parameters, cost: state.cost, misfit, deviations, meetings, latePower: scene.latePower };
}

interface State {
  readonly modelled: Float64Array;
  readonly residual: Float64Array;
  readonly cost: number;
  readonly radiated: readonly Radiated[];
}

/** @param known the state that differs in parameter `changed` only */
function evaluate(
  { grid, setup, target, whiten, latePower }: FittedScene,
  meetings: readonly Meeting[],
  parameters: Float64Array,
  known?: State,
  changed = -1,
): State {
  const planes = setup.surfaces.map((surface, k) => fittedPlane(setup, surface, k, parameters));
  const movedPlane = changed > 0 && (changed - 1) % PER_PLANE === 0 ? (changed - 1) / PER_PLANE : -1;
  const radiated = meetings.map((met, p) =>
    known && changed !== 0 && !met.includes(movedPlane)
      ? known.radiated[p]!
      : radiatedPath(
          grid,
          setup.microphoneDistance.m,
          centreBehindM(setup, parameters),
          met.map((k) => planes[k]!),
        ),
  );
  const modelled = whiten(mirrorLevelDb(grid, planes, meetings, radiated, latePower));
  const residual = target.map((t, i) => t - modelled[i]!);
  const cost = dot(residual, residual) + dot(parameters, parameters);
  return { modelled, residual, cost, radiated };
}

function deviationsOf(hessian: Float64Array, size: number): Float64Array<ArrayBuffer> {
  const inverse = inverseFromCholesky(cholesky(hessian, size), size);
  return Float64Array.from({ length: size }, (_, i) => Math.sqrt(inverse[i * size + i]!));
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}
