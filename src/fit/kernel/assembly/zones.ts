import { eqDb, ZONE_BYTES, zones } from './memory';
import { numberAt } from './pairs';

export function zoneAt(z: i32): usize {
  return zones + <usize>z * ZONE_BYTES;
}

/** The edge where the EQ is lower: what it may fall to inside is counted from there. */
export function lowerEdge(zone: usize): i32 {
  const a = load<i32>(zone, 8);
  const b = load<i32>(zone, 12);
  return numberAt(eqDb, a) < numberAt(eqDb, b) ? a : b;
}

/** What the EQ may fall to inside. */
export function floorDb(zone: usize): f64 {
  return numberAt(eqDb, lowerEdge(zone)) - load<f64>(zone);
}

export function insideFrom(zone: usize): i32 {
  return load<i32>(zone, 16);
}

export function insideEnd(zone: usize): i32 {
  return load<i32>(zone, 20);
}
