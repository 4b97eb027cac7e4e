import type { Feature } from '../features/detectFeatures.js';
import type { Scene } from '../scene/scene.js';

/**
 * A dip narrower than this many widths of the smoothing is of the window's shape more than of its own: a null of one
 * width in hertz and a resonance come out alike, and the ripple beside them is gone. Set by hand on ten placements.
 */
const RESOLVED_FROM_WIDTHS = 1.5;
/** Ripple is what is finer than a sixth of an octave: from a window this much wider on none is left to be missed. */
const CALM_BY_ITSELF_OCTAVES = 1 / 5;

/** Whether smoothing would make the curve calm whatever was measured. */
export function calmedBySmoothing({ input }: Scene): boolean {
  return (input.smoothedOverOctaves ?? 0) > CALM_BY_ITSELF_OCTAVES;
}

/**
 * Whether the curve was smoothed, before it was written, over too much of an octave to show whose dip this is. Over 1/6
 * octave ripple is left, and hardly more of others' dips are called the speaker's than in curves not smoothed.
 */
export function smoothedAway({ widthOctaves }: Feature, scene: Scene): boolean {
  return (
    calmedBySmoothing(scene) && widthOctaves < RESOLVED_FROM_WIDTHS * (scene.input.smoothedOverOctaves ?? 0)
  );
}

export function smoothedAwaySentence({ widthOctaves }: Feature, { input }: Scene): string {
  const parts = Math.round(1 / input.smoothedOverOctaves!);
  return (
    `The curve was smoothed over 1/${parts} octave before it was read, and this dip is ${widthOctaves.toFixed(2)} octaves wide: ` +
    "a reflection and the speaker look alike through that, and the calm around it is the smoothing's."
  );
}

export const SMOOTHED_AWAY_ADVICE =
  'Export the measurement again without smoothing, or measure anew: then it can be told whether the equalizer may mend it.';
