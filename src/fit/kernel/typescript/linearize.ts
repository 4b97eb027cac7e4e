import type { Bands } from '../../bank/bands.js';
import { scaledJacobian } from '../../bank/bankKernel.js';
import { meanEq, type Objective } from '../../objective/objective.js';
import { type FitGrid, lowerEdge } from '../../problem/fitGrid.js';
import { addBlock, addRow } from './normalMatrix.js';
import { findReach, reachAll } from './reach.js';
import { value } from './value.js';

/**
 * The objective's value with its gradient (half of it, Jᵀr) and the Gauss–Newton matrix JᵀJ in the lower triangle of
 * `normalMatrix` (row length 3n).
 */
export function normalEquations(objective: Objective, bands: Bands): number {
  const sum = value(objective, bands);
  linearize(objective, bands);
  return sum;
}

/** Weight of a point that only counts in a mean or as a zone's edge: its derivatives are needed, its error is not. */
const NO_WEIGHT = 1e-15;

/**
 * Gradient and Gauss–Newton matrix where `value` was last taken. A cap that gives way adds to the weight and
 * the pull of its point, so that it costs nothing more; points without any say are left out.
 */
export function linearize(objective: Objective, bands: Bands): void {
  const { grid, normalMatrix, gradient, options, work } = objective;
  const count = gatherPoints(objective);
  const n = bands.values.length;
  const { reach, jacobian } = work;
  if (options.cutToReach) findReach(bands, work.warped, grid.sampleRateHz, reach);
  else reachAll(reach);
  scaledJacobian(bands, work.warped, work.root, count, grid.sampleRateHz, jacobian, reach);
  normalMatrix.fill(0, 0, n * n);
  for (let k = 0; 3 * k < n; k++) {
    addSums(objective, 3 * k, count, reach.from[k]!, reach.to[k]!);
    for (let i = 0; i <= k; i++) {
      const from = Math.max(reach.from[k]!, reach.from[i]!);
      const to = Math.min(reach.to[k]!, reach.to[i]!);
      addBlock(jacobian, count, normalMatrix, n, 3 * k, 3 * i, from, to, reach.ascending);
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

/**
 * Puts the points that have a say side by side in `work`; returns how many. Those of the range, and all, are an even
 * number, so that they can be taken two at a time.
 */
function gatherPoints({ grid, eqDb, residual, options, work }: Objective): number {
  const { weight, capDb, meanShare, errorPoints, zones } = grid;
  const { restraint } = options;
  const scale = options.penalty / errorPoints;
  if (zones.length > 0) markZones(grid, eqDb, work.place);
  let count = 0;
  for (let p = 0; p < eqDb.length; p++) {
    if (p === errorPoints) {
      count = evened(work, count);
      work.reach.ascending = count;
    }
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
  count = evened(work, count);
  if (errorPoints === eqDb.length) work.reach.ascending = count;
  return count;
}

/** A filler without weight where a point has no neighbour. */
function evened(work: Objective['work'], count: number): number {
  if (count % 2 === 0) return count;
  work.warped[count] = work.warped[count - 1]!;
  for (const row of [work.root, work.pull, work.inLevel, work.inMean]) row[count] = 0;
  return count + 1;
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

/** Gradient and means of the derivatives by the three numbers of a band; even and odd points apart. */
function addSums({ gradient, work }: Objective, j: number, count: number, from: number, to: number): void {
  const { jacobian, pull, inLevel, inMean, levelJacobian, meanJacobian, reach } = work;
  for (let k = j; k < j + 3; k++) {
    const row = k * count;
    let [g0, g1, l0, l1, m0, m1] = [0, 0, 0, 0, 0, 0];
    for (let p = from; p < to; p += 2) {
      const even = jacobian[row + p]!;
      const odd = jacobian[row + p + 1]!;
      g0 += even * pull[p]!;
      g1 += odd * pull[p + 1]!;
      l0 += even * inLevel[p]!;
      l1 += odd * inLevel[p + 1]!;
      m0 += even * inMean[p]!;
      m1 += odd * inMean[p + 1]!;
    }
    // Beyond the range only a limit that gives way counts.
    for (let p = reach.ascending; p < count; p += 2) {
      g0 += jacobian[row + p]! * pull[p]!;
      g1 += jacobian[row + p + 1]! * pull[p + 1]!;
    }
    gradient[k] = g0 + g1;
    levelJacobian[k] = l0 + l1;
    meanJacobian[k] = m0 + m1;
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
