import { bandAt } from './band';
import { bandRows } from './derivatives';
import { ascending, gatherPoints } from './gather';
import {
  eqDb,
  errorPoints,
  gradient,
  inside,
  jacobian,
  levelJacobian,
  meanJacobian,
  place,
  reachFrom,
  reachTo,
  root,
  rowBytes,
  zoneCount,
  zoneRow,
} from './memory';
import { addRow, addSums, setBlock } from './normalMatrix';
import { indexAt, numberAt, setNumber } from './pairs';
import { findReach } from './reach';
import { levelIsGiven, levelRestraint, maxLevelLossDb, penalty } from './settings';
import { meanDb } from './value';
import { insideEnd, insideFrom, lowerEdge, zoneAt } from './zones';

/** Gradient and Gauss–Newton matrix where `value` was last taken. */
export function linearize(bandCount: i32): void {
  const count = gatherPoints();
  const n = 3 * bandCount;
  for (let k = 0; k < bandCount; k++) {
    findReach(k);
    const from = indexAt(reachFrom, k);
    const to = indexAt(reachTo, k);
    const rows = jacobian + <usize>(3 * k) * rowBytes;
    bandRows(bandAt(k), rows, from, to);
    bandRows(bandAt(k), rows, ascending, count);
    addSums(3 * k, from, to, count);
    for (let i = 0; i <= k; i++) {
      const common = max(from, indexAt(reachFrom, i));
      setBlock(n, 3 * k, 3 * i, common, min(to, indexAt(reachTo, i)), count);
    }
  }
  if (!levelIsGiven) addRow(levelJacobian, n, -1);
  const lost = meanDb < -maxLevelLossDb ? penalty : 0.0;
  addRow(meanJacobian, n, levelRestraint + lost);
  const slope = levelRestraint * meanDb + lost * (meanDb + maxLevelLossDb);
  for (let j = 0; j < n; j++)
    setNumber(gradient, j, numberAt(gradient, j) + slope * numberAt(meanJacobian, j));
  for (let z = 0; z < zoneCount; z++) addZoneFloor(zoneAt(z), n);
}

function addZoneFloor(zone: usize, n: i32): void {
  const scale = penalty / <f64>errorPoints;
  const edge = lowerEdge(zone);
  const floor = numberAt(eqDb, edge) - load<f64>(zone);
  const end = insideEnd(zone);
  for (let i = insideFrom(zone); i < end; i++) {
    const p = indexAt(inside, i);
    const under = floor - numberAt(eqDb, p);
    if (!(under > 0)) continue;
    for (let j = 0; j < n; j++) {
      const slope = derivativeAt(j, indexAt(place, edge)) - derivativeAt(j, indexAt(place, p));
      setNumber(zoneRow, j, slope);
      setNumber(gradient, j, numberAt(gradient, j) + scale * under * slope);
    }
    addRow(zoneRow, n, scale);
  }
}

/** Derivative by number j at one of the points that have a say; 0 beyond the band's reach. */
function derivativeAt(j: i32, at: i32): f64 {
  const band = j / 3;
  const reached = at >= ascending || (at >= indexAt(reachFrom, band) && at < indexAt(reachTo, band));
  return reached ? numberAt(jacobian + <usize>j * rowBytes, at) / numberAt(root, at) : 0;
}
