import { InputError } from '../inputError.js';
import type { Curve, FrequencyRange } from './curve.js';
import { interpolateLevel } from './interpolateLevel.js';
import { octaveWeights } from './octaveWeights.js';
import { sliceCurve } from './sliceCurve.js';

/**
 * Shifts a curve so that its mean level over `range` equals the reference's, every octave weighing the same.
 *
 * @returns the shifted curve and the shift in dB that was added
 * @throws InputError where the two curves and the range have no span in common
 */
export function alignLevel(
  curve: Curve,
  reference: Curve,
  range: FrequencyRange,
): { readonly curve: Curve; readonly shiftDb: number } {
  const ends = (c: Curve) => [c.frequencyHz[0]!, c.frequencyHz[c.frequencyHz.length - 1]!] as const;
  const [from, to] = ends(reference);
  const common = sliceCurve(curve, {
    fromHz: Math.max(range.fromHz, from),
    toHz: Math.min(range.toHz, to),
  });
  if (common.frequencyHz.length === 0) {
    throw new InputError(
      `the two curves have nothing in common between ${range.fromHz} and ${range.toHz} Hz to align their levels by`,
    );
  }
  const weight = octaveWeights(common.frequencyHz);
  let shiftDb = 0;
  common.frequencyHz.forEach((f, i) => {
    shiftDb += weight[i]! * (interpolateLevel(reference, f) - common.levelDb[i]!);
  });
  return { curve: { ...curve, levelDb: curve.levelDb.map((l) => l + shiftDb) }, shiftDb };
}
