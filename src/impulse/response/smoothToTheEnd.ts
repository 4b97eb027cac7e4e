import type { Curve } from '../../curve/curve.js';
import { dbOfPower } from '../../curve/powerIntegral.js';
import { smoothOctave } from '../../curve/smoothOctave.js';
import { windowPower } from '../../curve/windowPower.js';
import { log2 } from '../../elementary/logarithm.js';

/**
 * Fractional-octave smoothing of a response that ends only because the sample rate does. As `smoothOctave`, but where
 * a window reaches beyond the upper end it is cut there, not drawn in on both sides: a third octave about 20 kHz then
 * holds all that there is of it, as a band filter would. A slope is bent a little over the last half window: by a
 * quarter of the width times the slope at the very end.
 */
export function smoothToTheEnd(curve: Curve, widthOctaves: number): Curve {
  const smoothed = smoothOctave(curve, widthOctaves);
  const n = curve.frequencyHz.length;
  if (!(widthOctaves > 0) || n < 3) return smoothed;
  const octave = curve.frequencyHz.map(log2);
  const end = octave[n - 1]!;
  const first = octave.findIndex((x) => x + widthOctaves / 2 > end && x - widthOctaves / 2 >= octave[0]!);
  if (first < 0) return smoothed;
  const cut = octave.subarray(first);
  const power = windowPower(
    octave,
    curve.levelDb,
    cut.map((x) => x - widthOctaves / 2),
    cut.map((x) => Math.min(end, x + widthOctaves / 2)),
  );
  const levelDb = smoothed.levelDb.slice();
  levelDb.set(power.map(dbOfPower), first);
  return { ...smoothed, levelDb };
}
