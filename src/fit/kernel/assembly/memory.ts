import { NUMBER } from './pairs';

// Addresses of the arrays. Numbers of points are made even: what is added has no weight and no cap.

/** Of the grid, a number a point. */
export let warped: usize = 0;
export let weight: usize = 0;
export let deviationDb: usize = 0;
export let capDb: usize = 0;
export let meanShare: usize = 0;
export let backgroundDb: usize = 0;
/** What `value` leaves behind, a number a point. */
export let eqDb: usize = 0;
export let residual: usize = 0;
/** The points that have a say, side by side (see gather.ts). */
export let heldWarped: usize = 0;
export let root: usize = 0;
export let pull: usize = 0;
export let inLevel: usize = 0;
export let inMean: usize = 0;
/** Where a point of the grid lies among them. */
export let place: usize = 0;
/** A number for each that may change. */
export let gradient: usize = 0;
export let levelJacobian: usize = 0;
export let meanJacobian: usize = 0;
export let zoneRow: usize = 0;
export let free: usize = 0;
export let step: usize = 0;
/** Per band the first point and the one after the last that it reaches. */
export let reachFrom: usize = 0;
export let reachTo: usize = 0;
/** A bank as it is handed over: a byte a band, and ln f, gain in dB and ln Q of each. */
export let types: usize = 0;
export let values: usize = 0;
/** Per band five numbers made of them (see band.ts). */
export let bands: usize = 0;
/** Per zone 24 bytes: greatest fall, two edges, first and one after the last of its points in `inside`. */
export let zones: usize = 0;
export let inside: usize = 0;
/** Rows of `rowBytes`: derivatives times the root of the weight. */
export let jacobian: usize = 0;
export let normalMatrix: usize = 0;
export let factor: usize = 0;

export let points: i32 = 0;
export let errorPoints: i32 = 0;
export let zoneCount: i32 = 0;
/** Bytes of a number at each point. */
export let rowBytes: usize = 0;

export const BAND_BYTES: usize = 40;
export const ZONE_BYTES: usize = 24;
/** Below lie the program's own constants. */
const FIRST: usize = 1024;

let next: usize = 0;

function take(bytes: usize): usize {
  const address = next;
  next += (bytes + 15) & ~15;
  return address;
}

/** Lays out the arrays, one after the other, and has the memory grow where it is too small. */
export function layOut(allPoints: i32, ofRange: i32, maxBands: i32, allZones: i32, allInside: i32): void {
  points = (allPoints + 1) & ~1;
  errorPoints = ofRange;
  zoneCount = allZones;
  // Two fillers may come among the points that have a say.
  rowBytes = <usize>(points + 2) * NUMBER;
  const numbers = <usize>(3 * maxBands) * NUMBER;
  next = FIRST;
  warped = take(rowBytes);
  weight = take(rowBytes);
  deviationDb = take(rowBytes);
  capDb = take(rowBytes);
  meanShare = take(rowBytes);
  backgroundDb = take(rowBytes);
  eqDb = take(rowBytes);
  residual = take(rowBytes);
  heldWarped = take(rowBytes);
  root = take(rowBytes);
  pull = take(rowBytes);
  inLevel = take(rowBytes);
  inMean = take(rowBytes);
  place = take(rowBytes);
  gradient = take(numbers);
  levelJacobian = take(numbers);
  meanJacobian = take(numbers);
  zoneRow = take(numbers);
  free = take(numbers);
  step = take(numbers);
  reachFrom = take(numbers);
  reachTo = take(numbers);
  types = take(<usize>maxBands);
  values = take(numbers + NUMBER);
  bands = take(<usize>maxBands * BAND_BYTES);
  zones = take(<usize>allZones * ZONE_BYTES);
  inside = take((<usize>allInside) << 2);
  normalMatrix = take(<usize>(3 * maxBands) * numbers);
  // One row more holds the right side, one number more a row keeps rows on even places.
  factor = take(<usize>(3 * maxBands + 1) * (numbers + NUMBER));
  jacobian = take(<usize>(3 * maxBands) * rowBytes);
  const pages = <i32>((next + 0xffff) >> 16);
  if (pages > memory.size()) memory.grow(pages - memory.size());
}
