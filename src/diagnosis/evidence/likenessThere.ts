import { log } from '../../elementary/logarithm.js';
import { clip } from '../features/clip.js';
import type { Feature } from '../features/detectFeatures.js';
import type { Heights, Scene } from '../scene/scene.js';

/** Share of the width at half depth, on either side, over which a dip's shape is compared. */
const REACH_WIDTHS = 0.75;
const LEAST_OCTAVES = 0.1;
/** Down to the first width a dip is most of what its surroundings have, from the second on it is a mark on them. */
const WIDE_OCTAVES = 0.25;
const NARROW_OCTAVES = 0.1;
/** Beyond this likeness noise and what else lies there tell more than the dip. */
const MOST_ALIKE = 0.97;
const LEAST_ALIKE = -0.9;

/**
 * How much a dip's surroundings are alike in another placement, the dip's place, width and shape together: correlation
 * of the two curves over the dip and its flanks, 1 where it is the same, 0 and less where something else is.
 * The depth of a null hangs on a few per cent of sound from elsewhere, so it does not count.
 */
export function likenessThere(
  { index, widthOctaves }: Feature,
  { octave, input, frequencyHz, measured }: Pick<Scene, 'octave' | 'input' | 'frequencyHz' | 'measured'>,
  there: Heights,
): number {
  const reach = REACH_WIDTHS * Math.max(LEAST_OCTAVES, widthOctaves);
  const near = Array.from(octave.keys()).filter(
    (i) =>
      Math.abs(octave[i]! - octave[index]!) <= reach &&
      frequencyHz[i]! >= input.range.fromHz &&
      frequencyHz[i]! <= input.range.toHz,
  );
  const share = clip((WIDE_OCTAVES - widthOctaves) / (WIDE_OCTAVES - NARROW_OCTAVES), 0, 1);
  const here = overMean(
    near.map((i) => measured.localDb[i]!),
    share,
  );
  const other = overMean(
    near.map((i) => there.localDb[i]!),
    share,
  );
  const hereHere = product(here, here);
  const otherOther = product(other, other);
  return hereHere > 0 && otherOther > 0 ? product(here, other) / Math.sqrt(hereHere * otherOther) : 0;
}

/** Less a share of their mean: a narrow dip would else be taken for what it lies in. */
function overMean(values: readonly number[], share: number): number[] {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  return values.map((value) => value - share * mean);
}

function product(a: readonly number[], b: readonly number[]): number {
  return a.reduce((sum, value, i) => sum + value * b[i]!, 0);
}

/** Likeness on a scale on which its scatter is the same everywhere (Fisher, Metron 1 (1921) 3–32): 0 at 0, 2.1 at most. */
export function stretched(likeness: number): number {
  const r = clip(likeness, LEAST_ALIKE, MOST_ALIKE);
  return log((1 + r) / (1 - r)) / 2;
}
