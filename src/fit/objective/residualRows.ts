import type { Bands } from '../bank/bands.js';
import { bankValuesAndJacobian } from '../bank/bankKernel.js';
import { type FitGrid, lowerEdge } from '../problem/fitGrid.js';
import type { Objective } from './objective.js';

/**
 * The objective as a vector of residuals whose squares sum to it, in a fixed number of rows: error, restraint, caps,
 * zone floors, level restraint, level loss. This is the form that a least-squares library wants; `objective.ts` holds the same sum
 * as normal equations. Reads the state left in `objective.eqDb`.
 */
export function residualRows({ grid, eqDb, options }: Objective): Float64Array {
  const m = grid.errorPoints;
  const points = eqDb.length;
  const rows = new Float64Array(rowCount(grid));
  const scale = Math.sqrt(options.penalty / m);
  const level = options.levelDb ?? weightedMean(grid.weight, m, (p) => grid.deviationDb[p]! + eqDb[p]!);
  for (let p = 0; p < m; p++) {
    const w = Math.sqrt(grid.weight[p]!);
    rows[p] = w * (grid.deviationDb[p]! + eqDb[p]! - level);
    rows[m + p] = w * Math.sqrt(options.restraint) * eqDb[p]!;
  }
  for (let p = 0; p < points; p++) rows[2 * m + p] = scale * Math.max(0, eqDb[p]! - grid.capDb[p]!);
  let row = 2 * m + points;
  for (const zone of grid.zones) {
    const floor = eqDb[lowerEdge(zone, eqDb)]! - zone.maxFallDb;
    for (const p of zone.inside) rows[row++] = scale * Math.max(0, floor - eqDb[p]!);
  }
  const mean = weightedMean(grid.meanShare, m, (p) => eqDb[p]!);
  rows[rows.length - 2] = Math.sqrt(options.levelRestraint) * mean;
  rows[rows.length - 1] = Math.sqrt(options.penalty) * Math.max(0, -options.maxLevelLossDb - mean);
  return rows;
}

/**
 * Derivatives of `residualRows` by the n free numbers of a bank, which is evaluated on the way.
 *
 * @returns rows × n numbers, row by row
 */
export function residualRowsJacobian({ grid, eqDb, options }: Objective, bands: Bands): Float64Array {
  const m = grid.errorPoints;
  const points = eqDb.length;
  const n = bands.values.length;
  const jacobian = new Float64Array(n * points);
  bankValuesAndJacobian(bands.types, bands.values, grid.warped, grid.sampleRateHz, eqDb, jacobian);
  const count = rowCount(grid);
  const matrix = new Float64Array(count * n);
  const scale = Math.sqrt(options.penalty / m);
  for (let j = 0; j < n; j++) {
    const row = j * points;
    const meanOf = (shares: Float64Array) => weightedMean(shares, m, (p) => jacobian[row + p]!);
    const level = options.levelDb === undefined ? meanOf(grid.weight) : 0;
    for (let p = 0; p < m; p++) {
      const w = Math.sqrt(grid.weight[p]!);
      matrix[p * n + j] = w * (jacobian[row + p]! - level);
      matrix[(m + p) * n + j] = w * Math.sqrt(options.restraint) * jacobian[row + p]!;
    }
    for (let p = 0; p < points; p++) {
      if (eqDb[p]! > grid.capDb[p]!) matrix[(2 * m + p) * n + j] = scale * jacobian[row + p]!;
    }
    let zoneRow = 2 * m + points;
    for (const zone of grid.zones) {
      const edge = lowerEdge(zone, eqDb);
      for (const p of zone.inside) {
        if (eqDb[edge]! - zone.maxFallDb - eqDb[p]! > 0) {
          matrix[zoneRow * n + j] = scale * (jacobian[row + edge]! - jacobian[row + p]!);
        }
        zoneRow++;
      }
    }
    const mean = weightedMean(grid.meanShare, m, (p) => eqDb[p]!);
    const byMean = meanOf(grid.meanShare);
    matrix[(count - 2) * n + j] = Math.sqrt(options.levelRestraint) * byMean;
    if (-options.maxLevelLossDb - mean > 0) {
      matrix[(count - 1) * n + j] = -Math.sqrt(options.penalty) * byMean;
    }
  }
  return matrix;
}

function rowCount({ errorPoints, frequencyHz, zones }: FitGrid): number {
  return 2 * errorPoints + frequencyHz.length + zones.reduce((sum, { inside }) => sum + inside.length, 0) + 2;
}

function weightedMean(shares: Float64Array, m: number, value: (p: number) => number): number {
  let sum = 0;
  for (let p = 0; p < m; p++) sum += shares[p]! * value(p);
  return sum;
}
