import { levenbergMarquardt } from 'ml-levenberg-marquardt';
import type { Bands } from './bands.js';
import { bankValues } from './bankKernel.js';
import { type Bounds, lowerBound, upperBound } from './bounds.js';
import type { Objective } from './objective.js';
import { objectiveValue } from './objective.js';
import { residualRows, residualRowsJacobian } from './residualRows.js';

export interface PolishOptions {
  readonly stretches: number;
  readonly iterationsPerStretch: number;
  /** Stops when a stretch lowers the objective by less than this share. */
  readonly tolerance: number;
  /** Finite differences instead of the analytic Jacobian; only the benchmark asks for it. */
  readonly finiteDifferences?: boolean;
}

export interface Polished {
  readonly bands: Bands;
  readonly value: number;
  readonly iterations: number;
  readonly stopReason: string;
}

/**
 * The finish, by the library's Levenberg–Marquardt with the analytic Jacobian. The library keeps uphill steps as its
 * current point and knows no relative stop, so it is called in short stretches from the best bank so far and stopped
 * here; parameters on a bound that press outward are left out of its vector.
 */
export function polish(objective: Objective, start: Bands, bounds: Bounds, options: PolishOptions): Polished {
  let bands = start;
  let value = objectiveValue(objective, start);
  let iterations = 0;
  if (start.types.length === 0) return { bands, value, iterations, stopReason: 'no bands to refine' };
  for (let stretch = 0; stretch < options.stretches; stretch++) {
    const before = value;
    const result = runStretch(objective, bands, bounds, options);
    iterations += result.iterations;
    const next = objectiveValue(objective, result.bands);
    if (Number.isFinite(next) && next < value) {
      bands = result.bands;
      value = next;
    }
    if (!(before - value > options.tolerance * before)) {
      return { bands, value, iterations, stopReason: 'converged' };
    }
  }
  return { bands, value, iterations, stopReason: 'iteration limit' };
}

function runStretch(objective: Objective, bands: Bands, bounds: Bounds, options: PolishOptions) {
  const inside = (j: number) =>
    bands.values[j]! > lowerBound(bounds, j) + 1e-9 &&
    bands.values[j]! < upperBound(bounds, bands.types, j) - 1e-9;
  const free = Array.from(bands.values.keys()).filter(inside);
  if (free.length === 0) return { bands, iterations: 0 };
  const withFree = (parameters: readonly number[]) => {
    const values = bands.values.slice();
    free.forEach((j, k) => {
      values[j] = parameters[k]!;
    });
    return values;
  };
  const { grid, eqDb } = objective;
  const rows = residualRows(objective).length;
  const model = (parameters: number[]) => {
    bankValues(bands.types, withFree(parameters), grid.warped, grid.sampleRateHz, eqDb);
    const residuals = residualRows(objective);
    return (row: number) => residuals[row]!;
  };
  const derivatives = (parameters: number[]) => {
    const values = withFree(parameters);
    const matrix = residualRowsJacobian(objective, { types: bands.types, values });
    return (row: number) => free.map((j) => matrix[row * values.length + j]!);
  };
  const result = levenbergMarquardt(
    { x: Float64Array.from({ length: rows }, (_, i) => i), y: new Float64Array(rows) },
    model,
    {
      initialValues: free.map((j) => bands.values[j]!),
      minValues: free.map((j) => lowerBound(bounds, j)),
      maxValues: free.map((j) => upperBound(bounds, bands.types, j)),
      damping: 1e-3,
      maxIterations: options.iterationsPerStretch,
      errorTolerance: 1e-13,
      gradientDifference: 1e-5,
      ...(options.finiteDifferences ? {} : { jacobianFunction: derivatives }),
    },
  );
  const values = withFree(result.parameterValues);
  return { bands: { types: bands.types, values }, iterations: result.iterations };
}
