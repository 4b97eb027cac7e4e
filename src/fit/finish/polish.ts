import { levenbergMarquardt } from 'ml-levenberg-marquardt';
import type { Bands } from '../bank/bands.js';
import { bankValues } from '../bank/bankKernel.js';
import { type Bounds, clampBands, lowerBound, upperBound } from '../bank/bounds.js';
import { type Charge, charged } from '../objective/gainCharge.js';
import type { Objective } from '../objective/objective.js';
import { residualRows, residualRowsJacobian } from '../objective/residualRows.js';
import { lowerEdge } from '../problem/fitGrid.js';
import { objectiveValue } from '../refinement/objectiveValue.js';

export interface PolishOptions {
  readonly stretches: number;
  readonly iterationsPerStretch: number;
  /** Stops when a stretch lowers the objective by less than this share. */
  readonly tolerance: number;
  /** Finite differences instead of the analytic Jacobian; only the benchmark asks for it. */
  readonly finiteDifferences?: boolean;
  /** Weighs on top of the objective; the value given back holds it. */
  readonly charge?: Charge;
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
  const chargedValue = (bank: Bands) =>
    objectiveValue(objective, bank) + charged(options.charge, bank.values);
  let value = chargedValue(start);
  let iterations = 0;
  if (start.types.length === 0) return { bands, value, iterations, stopReason: 'no bands to refine' };
  for (let stretch = 0; stretch < options.stretches; stretch++) {
    const before = value;
    const result = runStretch(objective, bands, bounds, options);
    iterations += result.iterations;
    const next = chargedValue(result.bands);
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
    bands.values[j]! > lowerBound(bounds, bands, j) + 1e-9 &&
    bands.values[j]! < upperBound(bounds, bands, j) - 1e-9;
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
  objectiveValue(objective, bands);
  const rows = rowsThatMay(objective);
  const { charge } = options;
  const charges = free.filter((j) => charge !== undefined && charge[j]! > 0);
  const count = rows.length + charges.length;
  const rootOfCharge = (row: number) => Math.sqrt(charge![charges[row - rows.length]!]!);
  const model = (parameters: number[]) => {
    const values = withFree(parameters);
    bankValues(bands.types, values, grid.warped, grid.sampleRateHz, eqDb);
    const residuals = residualRows(objective);
    return (k: number) =>
      k < rows.length ? residuals[rows[k]!]! : rootOfCharge(k) * values[charges[k - rows.length]!]!;
  };
  const derivatives = (parameters: number[]) => {
    const values = withFree(parameters);
    const matrix = residualRowsJacobian(objective, { types: bands.types, values });
    // The library copies what it is handed: one list serves all points.
    const partials = free.map(() => 0);
    return (k: number) => {
      const row = k < rows.length ? rows[k]! * values.length : undefined;
      for (let at = 0; at < free.length; at++) {
        const j = free[at]!;
        if (row !== undefined) partials[at] = matrix[row + j]!;
        else partials[at] = j === charges[k - rows.length] ? rootOfCharge(k) : 0;
      }
      return partials;
    };
  };
  const result = levenbergMarquardt(
    { x: Float64Array.from({ length: count }, (_, k) => k), y: new Float64Array(count) },
    model,
    {
      initialValues: free.map((j) => bands.values[j]!),
      minValues: free.map((j) => lowerBound(bounds, bands, j)),
      maxValues: free.map((j) => upperBound(bounds, bands, j)),
      damping: 1e-3,
      maxIterations: options.iterationsPerStretch,
      errorTolerance: 1e-13,
      gradientDifference: 1e-5,
      ...(options.finiteDifferences ? {} : { jacobianFunction: derivatives }),
    },
  );
  const values = withFree(result.parameterValues);
  return { bands: clampBands({ types: bands.types, values }, bounds), iterations: result.iterations };
}

/** A limit further off than this is not met within a stretch. */
const FAR_DB = 1;

/** The rows of residuals that are not zero or may not stay so: the library takes all others along for nothing. */
function rowsThatMay({ grid, eqDb, options }: Objective): number[] {
  const m = grid.errorPoints;
  const caps = 2 * m;
  const zones = caps + eqDb.length;
  const rows: number[] = [];
  for (let p = 0; p < m; p++) if (grid.weight[p]! > 0) rows.push(p);
  if (options.restraint > 0) for (let p = 0; p < m; p++) if (grid.weight[p]! > 0) rows.push(m + p);
  for (let p = 0; p < eqDb.length; p++) if (eqDb[p]! > grid.capDb[p]! - FAR_DB) rows.push(caps + p);
  let row = zones;
  for (const zone of grid.zones) {
    const floor = eqDb[lowerEdge(zone, eqDb)]! - zone.maxFallDb;
    for (const p of zone.inside) {
      if (floor - eqDb[p]! > -FAR_DB) rows.push(row);
      row++;
    }
  }
  return [...rows, row, row + 1];
}
