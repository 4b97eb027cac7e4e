import { log2 } from '../elementary/logarithm.js';

/**
 * How dense a curve is: over half of the span in octaves its points lie no farther apart than one part of that
 * number. Measured over log frequency, so that the many points that an even spacing in hertz has at the top do not
 * stand for all.
 *
 * @param frequencyHz ascending, at least two points
 */
export function pointsPerOctave(frequencyHz: Float64Array, fromHz: number, toHz: number): number {
  const from = log2(fromHz);
  const to = log2(toHz);
  const octave = frequencyHz.map(log2);
  const gaps = Array.from(octave.subarray(1), (high, i) => {
    const low = octave[i]!;
    return { octaves: high - low, inside: Math.min(high, to) - Math.max(low, from) };
  })
    .filter(({ inside }) => inside > 0)
    .sort((a, b) => a.octaves - b.octaves);
  let covered = 0;
  for (const { octaves, inside } of gaps) {
    covered += inside;
    if (covered >= (to - from) / 2) return 1 / octaves;
  }
  return 0;
}
