/** Mean over ±`reachOctaves` around each point, the window shrinking toward the ends so that it stays centred. */
export function windowMean(octave: Float64Array, values: Float64Array, reachOctaves: number): Float64Array {
  const n = octave.length;
  const sums = new Float64Array(n + 1);
  for (let i = 0; i < n; i++) sums[i + 1] = sums[i]! + values[i]!;
  const step = n > 1 ? (octave[n - 1]! - octave[0]!) / (n - 1) : 1;
  const reach = Math.round(reachOctaves / step);
  return values.map((_, i) => {
    const half = Math.min(reach, i, n - 1 - i);
    return (sums[i + half + 1]! - sums[i - half]!) / (2 * half + 1);
  });
}
