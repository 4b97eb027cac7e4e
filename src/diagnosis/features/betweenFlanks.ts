/** What is narrower than this from one flank's top to the other's lies between flanks of its own. */
const FLANKS_OCTAVES = 1 / 3;
/** A grid's own steps must not fall out of the window by rounding on one side alone. */
const REACH_OCTAVES = FLANKS_OCTAVES / 2 + 1e-9;

/**
 * Height of a curve, 0 or below, over the level of the lower of the two flanks that a narrow dip has: the curve less its
 * morphological closing by a flat piece (Serra, Image Analysis and Mathematical Morphology, Academic Press 1982). A
 * dip in the middle of a rise shows that lies above any trend; slopes, peaks and all that is wide come out as 0, and so do the
 * ends, which have no flank on one side.
 *
 * @param octave log2 of frequency, ascending, n points
 * @param levelDb smoothed, n points
 */
export function betweenFlanks(octave: Float64Array, levelDb: Float64Array): Float64Array {
  const closed = least(octave, greatest(octave, levelDb));
  const from = octave[0]! + REACH_OCTAVES;
  const to = octave.at(-1)! - REACH_OCTAVES;
  return levelDb.map((db, i) => (octave[i]! < from || octave[i]! > to ? 0 : Math.min(0, db - closed[i]!)));
}

const greatest = (octave: Float64Array, values: Float64Array) => overWindow(octave, values, Math.max);
const least = (octave: Float64Array, values: Float64Array) => overWindow(octave, values, Math.min);

function overWindow(
  octave: Float64Array,
  values: Float64Array,
  pick: (a: number, b: number) => number,
): Float64Array {
  let from = 0;
  return values.map((value, i) => {
    while (octave[from]! < octave[i]! - REACH_OCTAVES) from++;
    let picked = value;
    for (let k = from; k < values.length && octave[k]! <= octave[i]! + REACH_OCTAVES; k++) {
      picked = pick(picked, values[k]!);
    }
    return picked;
  });
}
