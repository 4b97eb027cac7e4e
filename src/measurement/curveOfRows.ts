import type { Curve } from '../curve/curve.js';
import { dbOfPower, powerOfDb } from '../curve/powerIntegral.js';
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
  const order = Uint32Array.from(frequencyHz, (_, i) => i).sort(
    (a, b) =>
      frequencyHz[a]! - frequencyHz[b]! ||
      levelDb[a]! - levelDb[b]! ||
      (phaseRad ? phaseRad[a]! - phaseRad[b]! : 0),
  );
  const pick = (values: Float64Array) => Float64Array.from(order, (i) => values[i]!);
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
    const level = end - start === 1 ? levelDb[start]! : meanLevel(levelDb.subarray(start, end));
    const phase = phaseRad && meanAngle(phaseRad.subarray(start, end));
    frequencyHz[count] = frequencyHz[start]!;
    levelDb[count] = level;
    if (phaseRad) phaseRad[count] = phase!;
    start = end;
  }
  return {
    frequencyHz: frequencyHz.slice(0, count),
    levelDb: levelDb.slice(0, count),
    ...(phaseRad && { phaseRad: phaseRad.slice(0, count) }),
  };
}

function meanLevel(levelDb: Float64Array): number {
  const top = levelDb[levelDb.length - 1]!;
  return top + dbOfPower(levelDb.reduce((sum, l) => sum + powerOfDb(l - top), 0) / levelDb.length);
}

function meanAngle(rad: Float64Array): number {
  if (rad.length === 1) return rad[0]!;
  const sin = rad.reduce((sum, a) => sum + Math.sin(a), 0);
  const cos = rad.reduce((sum, a) => sum + Math.cos(a), 0);
  return Math.atan2(sin, cos);
}
