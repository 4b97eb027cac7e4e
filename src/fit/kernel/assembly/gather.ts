import {
  capDb,
  eqDb,
  errorPoints,
  heldWarped,
  inLevel,
  inMean,
  inside,
  meanShare,
  place,
  points,
  pull,
  residual,
  root,
  warped,
  weight,
  zoneCount,
} from './memory';
import { indexAt, numberAt, setIndex, setNumber } from './pairs';
import { penalty, restraint } from './settings';
import { insideEnd, insideFrom, lowerEdge, zoneAt } from './zones';

/** So many of the points that have a say ascend in frequency; what comes after them counts for every band. */
export let ascending: i32 = 0;

/** Weight of a point that only counts in a mean or as a zone's edge. */
const NO_WEIGHT: f64 = 1e-15;

/** Puts the points that have a say side by side, an even number of either kind; returns how many. */
export function gatherPoints(): i32 {
  const scale = penalty / <f64>errorPoints;
  if (zoneCount > 0) markZones();
  let count: i32 = 0;
  for (let p = 0; p < points; p++) {
    if (p === errorPoints) {
      count = evened(count);
      ascending = count;
    }
    const eq = numberAt(eqDb, p);
    const over = eq - numberAt(capDb, p);
    const share = numberAt(meanShare, p);
    const w = numberAt(weight, p);
    const marked = zoneCount > 0 && indexAt(place, p) === 1;
    if (w === 0 && over <= 0 && share === 0 && !marked) continue;
    let total = w * (1 + restraint);
    let pulled = w * (numberAt(residual, p) + restraint * eq);
    if (over > 0) {
      total += scale;
      pulled += scale * over;
    }
    const rooted = sqrt(max(total, NO_WEIGHT));
    hold(count, numberAt(warped, p), rooted, pulled / rooted, w / rooted, share / rooted);
    setIndex(place, p, count++);
  }
  count = evened(count);
  if (errorPoints >= points) ascending = count;
  return count;
}

function hold(at: i32, u: f64, rooted: f64, pulled: f64, ofLevel: f64, ofMean: f64): void {
  setNumber(heldWarped, at, u);
  setNumber(root, at, rooted);
  setNumber(pull, at, pulled);
  setNumber(inLevel, at, ofLevel);
  setNumber(inMean, at, ofMean);
}

/** A filler without weight where a point has no neighbour. */
function evened(count: i32): i32 {
  if ((count & 1) === 0) return count;
  hold(count, numberAt(heldWarped, count - 1), 0, 0, 0, 0);
  return count + 1;
}

function markZones(): void {
  memory.fill(place, 0, (<usize>points) << 2);
  for (let z = 0; z < zoneCount; z++) {
    const zone = zoneAt(z);
    const edge = lowerEdge(zone);
    const floor = numberAt(eqDb, edge) - load<f64>(zone);
    const end = insideEnd(zone);
    for (let i = insideFrom(zone); i < end; i++) {
      const p = indexAt(inside, i);
      if (floor > numberAt(eqDb, p)) {
        setIndex(place, p, 1);
        setIndex(place, edge, 1);
      }
    }
  }
}
