import type { Curve } from '../curve/curve.js';
import { dbOfPower, powerOfDb } from '../curve/powerIntegral.js';
import { atan2 } from '../elementary/arctangent.js';
import { cos, sin } from '../elementary/sine.js';
import { ascendingOrder } from './ascendingOrder.js';
import { unwrapPhase } from './unwrapPhase.js';

/**
 * Rows in any order into a curve: sorted by frequency, rows of one frequency averaged (power average of the level,
 * mean direction of the phase), phase unwrapped. The order of the rows has no influence, not in the last digit.
 */
export function curveOfRows(
  frequencyHz: Float64Array,
  levelDb: Float64Array,
  phaseRad: Float64Array | undefined,
): Curve {
  const rows = { frequencyHz, levelDb, ...(phaseRad && { phaseRad }) };
  const curve = averageRepeats(sortRows(rows));
  return curve.phaseRad ? { ...curve, phaseRad: unwrapPhase(curve.phaseRad) } : curve;
}

/** Equal neighbours are allowed. */
function ascends(values: Float64Array): boolean {
  for (let i = 1; i < values.length; i++) if (values[i]! < values[i - 1]!) return false;
  return true;
}

function sortRows(rows: Curve): Curve {
  if (ascends(rows.frequencyHz)) return rows;
  const reversed = mapValues(rows, (values) => values.toReversed());
  if (ascends(reversed.frequencyHz)) return reversed;
  const order = ascendingOrder(rows.frequencyHz);
  return mapValues(rows, (values) => values.map((_, i) => values[order[i]!]!));
}

function mapValues(curve: Curve, change: (values: Float64Array) => Float64Array): Curve {
  return {
    frequencyHz: change(curve.frequencyHz),
    levelDb: change(curve.levelDb),
    ...(curve.phaseRad && { phaseRad: change(curve.phaseRad) }),
  };
}

/** Writes over its arrays: the place written to never passes the one read from. */
function averageRepeats(rows: Curve): Curve {
  const { frequencyHz, levelDb, phaseRad } = rows;
  const n = frequencyHz.length;
  let count = 0;
  for (let start = 0; start < n; count++) {
    let end = start + 1;
    while (end < n && frequencyHz[end] === frequencyHz[start]) end++;
    const single = end - start === 1;
    frequencyHz[count] = frequencyHz[start]!;
    levelDb[count] = single ? levelDb[start]! : meanLevel(levelDb.slice(start, end));
    if (phaseRad) phaseRad[count] = single ? phaseRad[start]! : meanAngle(phaseRad.slice(start, end));
    start = end;
  }
  return mapValues(rows, (values) => values.subarray(0, count));
}

// Both means sort what they add up, so that the order of the rows cannot show in the last digit.

function meanLevel(group: Float64Array): number {
  const levelDb = group.sort();
  const top = levelDb[levelDb.length - 1]!;
  return top + dbOfPower(levelDb.reduce((sum, l) => sum + powerOfDb(l - top), 0) / levelDb.length);
}

function meanAngle(group: Float64Array): number {
  const rad = group.sort();
  const up = rad.reduce((sum, a) => sum + sin(a), 0);
  const along = rad.reduce((sum, a) => sum + cos(a), 0);
  return atan2(up, along);
}
