import type { Curve } from '../curve/curve.js';
import { dbOfPower, powerOfDb } from '../curve/powerIntegral.js';
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
  const sorted = isStrictlyAscending(frequencyHz) ? rows : averageRepeats(sortRows(rows));
  return sorted.phaseRad ? { ...sorted, phaseRad: unwrapPhase(sorted.phaseRad) } : sorted;
}

function isStrictlyAscending(values: Float64Array): boolean {
  for (let i = 1; i < values.length; i++) if (values[i]! <= values[i - 1]!) return false;
  return true;
}

function sortRows({ frequencyHz, levelDb, phaseRad }: Curve): Curve {
  const reversed = frequencyHz.toReversed();
  if (isStrictlyAscending(reversed)) {
    return {
      frequencyHz: reversed,
      levelDb: levelDb.toReversed(),
      ...(phaseRad && { phaseRad: phaseRad.toReversed() }),
    };
  }
  const order = ascendingOrder(frequencyHz);
  const pick = (values: Float64Array) => values.map((_, i) => values[order[i]!]!);
  return {
    frequencyHz: pick(frequencyHz),
    levelDb: pick(levelDb),
    ...(phaseRad && { phaseRad: pick(phaseRad) }),
  };
}

function averageRepeats({ frequencyHz, levelDb, phaseRad }: Curve): Curve {
  const n = frequencyHz.length;
  let count = 0;
  for (let start = 0; start < n; count++) {
    let end = start + 1;
    while (end < n && frequencyHz[end] === frequencyHz[start]) end++;
    // Written over the sorted copy: `count` never passes `start`.
    const single = end - start === 1;
    frequencyHz[count] = frequencyHz[start]!;
    levelDb[count] = single ? levelDb[start]! : meanLevel(levelDb.slice(start, end));
    if (phaseRad) phaseRad[count] = single ? phaseRad[start]! : meanAngle(phaseRad.slice(start, end));
    start = end;
  }
  return {
    frequencyHz: frequencyHz.slice(0, count),
    levelDb: levelDb.slice(0, count),
    ...(phaseRad && { phaseRad: phaseRad.slice(0, count) }),
  };
}

// Both means sort what they add up, so that the order of the rows cannot show in the last digit.

function meanLevel(group: Float64Array): number {
  const levelDb = group.sort();
  const top = levelDb[levelDb.length - 1]!;
  return top + dbOfPower(levelDb.reduce((sum, l) => sum + powerOfDb(l - top), 0) / levelDb.length);
}

function meanAngle(group: Float64Array): number {
  const rad = group.sort();
  const sin = rad.reduce((sum, a) => sum + Math.sin(a), 0);
  const cos = rad.reduce((sum, a) => sum + Math.cos(a), 0);
  return Math.atan2(sin, cos);
}
