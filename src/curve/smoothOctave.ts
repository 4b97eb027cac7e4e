import { log2 } from '../elementary/logarithm.js';
import type { Curve } from './curve.js';
import { dbOfPower } from './powerIntegral.js';
import { windowPower } from './windowPower.js';

/**
 * Fractional-octave smoothing: at each point the mean power over ±`widthOctaves`/2, the level running straight
 * in dB over log frequency between points.
 *
 * Near an end the window shrinks to the same distance on both sides, so that the ends keep their values and a
 * slope is not bent there. Width 0 gives the curve itself. The phase is passed on as it is.
 */
export function smoothOctave(curve: Curve, widthOctaves: number): Curve {
  const n = curve.frequencyHz.length;
  if (!(widthOctaves > 0) || n < 3) return curve;
  const octave = curve.frequencyHz.map(log2);
  const half = octave.map((x) => Math.min(widthOctaves / 2, x - octave[0]!, octave[n - 1]! - x));
  const from = octave.map((x, i) => x - half[i]!);
  const to = octave.map((x, i) => x + half[i]!);
  const levelDb = windowPower(octave, curve.levelDb, from, to).map(dbOfPower);
  levelDb[0] = curve.levelDb[0]!;
  levelDb[n - 1] = curve.levelDb[n - 1]!;
  return { ...curve, levelDb };
}
