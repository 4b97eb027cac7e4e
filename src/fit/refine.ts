import type { Bands } from './bands.js';
import { type Bounds, clampToBounds, lowerBound, upperBound } from './bounds.js';
import { normalEquations, type Objective, objectiveValue } from './objective.js';
import { solveDamped } from './solveDamped.js';

export interface RefineOptions {
  readonly maxIterations: number;
  /** Stops when two steps running lower the objective by less than this share. */
  readonly tolerance: number;
  /** Gives up when the value is still above this after `patience` iterations. */
  readonly hopelessAbove?: number;
  readonly patience?: number;
  /** Numbers that stay as they are. */
  readonly frozen?: (j: number) => boolean;
}

export interface Refined {
  readonly bands: Bands;
  readonly value: number;
  readonly iterations: number;
}

/** Largest step of ln f, gain and ln Q in one iteration: the shapes are far from linear beyond. */
const LONGEST_STEP = [0.4, 4, 0.8];

/**
 * Levenberg–Marquardt with Marquardt's scaling, box bounds by freezing what presses against them, and steps held to
 * the span in which the linear model means something. Only steps that lower the objective are taken.
 */
export function refine(objective: Objective, start: Bands, bounds: Bounds, options: RefineOptions): Refined {
  const n = start.values.length;
  let values = start.values.map((value, j) => clampToBounds(value, bounds, start.types, j));
  const trial = new Float64Array(n);
  const step = new Float64Array(n);
  const { types } = start;
  const patience = options.patience ?? 5;
  let value = normalEquations(objective, { types, values });
  let damping = 1e-2;
  let slowSteps = 0;
  let iterations = 0;
  while (n > 0 && iterations < options.maxIterations && slowSteps < 2) {
    iterations++;
    const free = freeParameters({ types, values }, objective.gradient, bounds).filter(
      (j) => !options.frozen?.(j),
    );
    if (free.length === 0) break;
    let accepted = false;
    for (let attempt = 0; attempt < 8 && !accepted; attempt++) {
      if (solveDamped(objective.normalMatrix, objective.gradient, n, free, damping, step)) {
        const shorten = shortening(step);
        for (let j = 0; j < n; j++)
          trial[j] = clampToBounds(values[j]! + shorten * step[j]!, bounds, types, j);
        const next = objectiveValue(objective, { types, values: trial });
        if (next < value) {
          slowSteps = value - next < options.tolerance * value ? slowSteps + 1 : 0;
          values = trial.slice();
          value = next;
          accepted = true;
        }
      }
      damping = accepted ? Math.max(damping / 4, 1e-9) : damping * 6;
    }
    if (!accepted) break;
    if (options.hopelessAbove !== undefined && iterations === patience && value > options.hopelessAbove)
      break;
    if (iterations < options.maxIterations && slowSteps < 2) {
      value = normalEquations(objective, { types, values });
    }
  }
  return { bands: { types, values }, value, iterations };
}

function freeParameters({ types, values }: Bands, gradient: Float64Array, bounds: Bounds): number[] {
  const free: number[] = [];
  for (let j = 0; j < values.length; j++) {
    const pressedDown = values[j]! <= lowerBound(bounds, j) && gradient[j]! > 0;
    const pressedUp = values[j]! >= upperBound(bounds, types, j) && gradient[j]! < 0;
    if (!pressedDown && !pressedUp) free.push(j);
  }
  return free;
}

function shortening(step: Float64Array): number {
  let shorten = 1;
  for (let j = 0; j < step.length; j++) {
    shorten = Math.min(shorten, LONGEST_STEP[j % 3]! / Math.max(Math.abs(step[j]!), 1e-12));
  }
  return shorten;
}
