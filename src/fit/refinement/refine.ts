import type { Bands } from '../bank/bands.js';
import {
  type Bounds,
  clampBands,
  clampToBounds,
  type EndsAlong,
  endsAlong,
  hasHangingQ,
  lowerBound,
  upperBound,
} from '../bank/bounds.js';
import type { Engine } from '../kernel/engine.js';
import { engineFor } from '../kernel/engineFor.js';
import { type Charge, charged } from '../objective/gainCharge.js';
import type { Objective } from '../objective/objective.js';

export interface RefineOptions {
  readonly maxIterations: number;
  /** Stops when two steps running lower the objective by less than this share. */
  readonly tolerance: number;
  /** Gives up when the value is still above this after `patience` iterations. */
  readonly hopelessAbove?: number;
  readonly patience?: number;
  /** Numbers that stay as they are. */
  readonly frozen?: (j: number) => boolean;
  /** Weighs on top of the objective; the value given back holds it. */
  readonly charge?: Charge;
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
  const { types } = start;
  const engine = engineFor(objective);
  const { step } = engine;
  let { values } = clampBands(start, bounds);
  let trial: Float64Array = new Float64Array(n);
  const patience = options.patience ?? 5;
  const ends = endsAlong(bounds, types);
  const hanging = hasHangingQ(bounds) ? bounds : undefined;
  const { charge } = options;
  const chargedValue = (bands: Bands) => engine.value(bands) + charged(charge, bands.values);
  let value = chargedValue({ types, values });
  let damping = 1e-2;
  let slowSteps = 0;
  let iterations = 0;
  while (n > 0 && iterations < options.maxIterations && slowSteps < 2) {
    iterations++;
    // The last evaluation was that of `values`: either the start or the step that was taken.
    engine.linearize({ types, values });
    if (charge) addCharge(engine, charge, values);
    const count = gatherFree(engine, { types, values }, ends, hanging, options);
    if (count === 0) break;
    let accepted = false;
    for (let attempt = 0; attempt < 8 && !accepted; attempt++) {
      if (engine.solve(n, count, damping)) {
        const stepped = { types, values: trial };
        for (let j = 0; j < n; j++) {
          const longest = LONGEST_STEP[j % 3]!;
          const held = Math.max(-longest, Math.min(longest, step[j]!));
          const next = values[j]! + held;
          trial[j] =
            hanging && j % 3 === 2
              ? clampToBounds(next, hanging, stepped, j)
              : Math.min(Math.max(next, ends.lower[j]!), ends.upper[j]!);
        }
        const next = chargedValue(stepped);
        if (next < value) {
          slowSteps = value - next < options.tolerance * value ? slowSteps + 1 : 0;
          [values, trial] = [trial, values];
          value = next;
          accepted = true;
        }
      }
      damping = accepted ? Math.max(damping / 4, 1e-9) : damping * 6;
    }
    if (!accepted) break;
    if (options.hopelessAbove !== undefined && iterations === patience && value > options.hopelessAbove)
      break;
  }
  return { bands: { types, values }, value, iterations };
}

function gatherFree(
  { gradient, free }: Engine,
  bands: Bands,
  { lower, upper }: EndsAlong,
  hanging: Bounds | undefined,
  { frozen }: RefineOptions,
): number {
  let count = 0;
  const { values } = bands;
  for (let j = 0; j < values.length; j++) {
    const hangs = hanging && j % 3 === 2;
    const least = hangs ? lowerBound(hanging, bands, j) : lower[j]!;
    const most = hangs ? upperBound(hanging, bands, j) : upper[j]!;
    const pressedDown = values[j]! <= least && gradient[j]! > 0;
    const pressedUp = values[j]! >= most && gradient[j]! < 0;
    if (!pressedDown && !pressedUp && !frozen?.(j)) free[count++] = j;
  }
  return count;
}

/** A charge's part in gradient and matrix. */
function addCharge({ gradient, normalMatrix }: Engine, charge: Charge, values: Float64Array): void {
  const n = values.length;
  for (let j = 0; j < n; j++) {
    gradient[j]! += charge[j]! * values[j]!;
    normalMatrix[j * n + j]! += charge[j]!;
  }
}
