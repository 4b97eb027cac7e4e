import type { Bands } from './bands.js';
import { scaledJacobian } from './bankKernel.js';
import { type FitGrid, lowerEdge } from './fitGrid.js';
import { addBlock, addRow } from './normalMatrix.js';
import { meanEq, type Objective, objectiveValue } from './objective.js';
import { findReach, reachAll } from './reach.js';

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
