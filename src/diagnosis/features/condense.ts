import type { Curve } from '../../curve/curve.js';

/**
 * Means of neighbouring points where the grid is finer than reflections need: below `belowHz` two points become one.
 * Levels are averaged in dB, frequencies on the log axis.
 */
export function condense(curve: Curve, belowHz: number): Curve {
  const frequencyHz: number[] = [];
  const levelDb: number[] = [];
  for (let i = 0; i < curve.frequencyHz.length; i++) {
    const f = curve.frequencyHz[i]!;
    const next = curve.frequencyHz[i + 1];
    if (f < belowHz && next !== undefined) {
      frequencyHz.push(Math.sqrt(f * next));
      levelDb.push((curve.levelDb[i]! + curve.levelDb[i + 1]!) / 2);
      i++;
    } else {
      frequencyHz.push(f);
      levelDb.push(curve.levelDb[i]!);
    }
  }
  return { frequencyHz: Float64Array.from(frequencyHz), levelDb: Float64Array.from(levelDb) };
}
