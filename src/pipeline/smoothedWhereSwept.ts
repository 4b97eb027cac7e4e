import type { Curve, FrequencyRange } from '../curve/curve.js';
import { sliceCurve } from '../curve/sliceCurve.js';
import { smoothOctave } from '../curve/smoothOctave.js';

/** As `smoothOctave`, but what lies within a sweep is not mixed with the silence beyond. */
export function smoothedWhereSwept(
  curve: Curve,
  widthOctaves: number,
  swept: FrequencyRange | undefined,
): Curve {
  const smoothed = smoothOctave(curve, widthOctaves);
  const inside = swept && sliceCurve(curve, swept);
  if (!inside || inside.frequencyHz.length === 0) return smoothed;
  const levelDb = smoothed.levelDb.slice();
  levelDb.set(smoothOctave(inside, widthOctaves).levelDb, curve.frequencyHz.indexOf(inside.frequencyHz[0]!));
  return { ...smoothed, levelDb };
}
