import { log } from '../elementary/logarithm.js';
import { clip } from './clip.js';
import type { Feature } from './detectFeatures.js';
import type { Heights, Scene } from './scene.js';

/** Share of the width at half depth, on either side, over which a dip's shape is compared. */
const REACH_WIDTHS = 0.75;
const LEAST_OCTAVES = 0.15;
/** Beyond this likeness noise and what else lies there tell more than the dip. */
const MOST_ALIKE = 0.97;
const LEAST_ALIKE = -0.9;

/**
 * How much a dip's surroundings are alike in another placement, the dip's place, width and shape together: correlation
 * of the two curves' heights over the dip and its flanks, 1 where it is the same, 0 and less where something else is.
 * The depth of a null hangs on a few per cent of sound from elsewhere, so it does not count.
 */
export function likenessThere(
  { index, widthOctaves }: Feature,
  { octave, input, frequencyHz, measured }: Pick<Scene, 'octave' | 'input' | 'frequencyHz' | 'measured'>,
  there: Heights,
): number {
  const reach = REACH_WIDTHS * Math.max(LEAST_OCTAVES, widthOctaves);
  let hereHere = 0;
  let hereThere = 0;
  let thereThere = 0;
  for (let i = 0; i < octave.length; i++) {
    if (Math.abs(octave[i]! - octave[index]!) > reach) continue;
    if (frequencyHz[i]! < input.range.fromHz || frequencyHz[i]! > input.range.toHz) continue;
    const a = measured.localDb[i]!;
    const b = there.localDb[i]!;
    hereHere += a * a;
    hereThere += a * b;
    thereThere += b * b;
  }
  return hereHere > 0 && thereThere > 0 ? hereThere / Math.sqrt(hereHere * thereThere) : 0;
}

/** Likeness on a scale on which its scatter is the same everywhere (Fisher, Metron 1 (1921) 3–32): 0 at 0, 2.1 at most. */
export function stretched(likeness: number): number {
  const r = clip(likeness, LEAST_ALIKE, MOST_ALIKE);
  return log((1 + r) / (1 - r)) / 2;
}
