/**
 * Mean of `values` over ±`widthOctaves`/2; near the ends over what there is.
 *
 * @param octave ascending, n points
 */
export function slidingTrend(octave: Float64Array, values: Float64Array, widthOctaves: number): Float64Array {
  const n = octave.length;
  let from = 0;
  let to = 0;
  let sum = 0;
  return octave.map((x) => {
    while (to < n && octave[to]! <= x + widthOctaves / 2) sum += values[to++]!;
    while (octave[from]! < x - widthOctaves / 2) sum -= values[from++]!;
    return sum / (to - from);
  });
}
