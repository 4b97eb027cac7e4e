import { upperMedian } from '../../elementary/upperMedian.js';
import { weightedLine } from './robustLine.js';

/** Half the width of the window that counts as the surroundings of a feature. */
const REACH_OCTAVES = 2;
const ROUNDS = 4;
/** A level this far from the trend, in units of the median deviation, no longer counts. */
const OUTLIER = 4;

/**
 * The level about which peaks and dips are judged: at each point a straight line over log frequency through the
 * octave on either side, nearer points weighing more (tricube) and outliers less and less (bisquare). Cleveland,
 * J. Am. Stat. Assoc. 74 (1979) 829–836. So a deep null hardly pulls the trend down, and a slope makes no feature.
 *
 * @param octave ascending positions, log2 of frequency, n
 * @param levelDb n levels
 */
export function surroundingTrend(octave: Float64Array, levelDb: Float64Array): Float64Array {
  const n = octave.length;
  const trend = new Float64Array(n);
  const trust = new Float64Array(n).fill(1);
  const weight = new Float64Array(n);
  for (let round = 0; round < ROUNDS; round++) {
    let from = 0;
    let to = 0;
    for (let i = 0; i < n; i++) {
      const at = octave[i]!;
      while (octave[from]! < at - REACH_OCTAVES) from++;
      while (to < n && octave[to]! <= at + REACH_OCTAVES) to++;
      for (let k = from; k < to; k++) {
        const u = Math.abs(octave[k]! - at) / REACH_OCTAVES;
        const v = 1 - u * u * u;
        weight[k] = trust[k]! * v * v * v;
      }
      trend[i] = weightedLine(octave, levelDb, weight, from, to, at).value;
    }
    const deviation = levelDb.map((l, i) => Math.abs(l - trend[i]!));
    const scale = Math.max(0.5, upperMedian(deviation));
    for (let i = 0; i < n; i++) {
      const u = Math.min(1, deviation[i]! / (OUTLIER * scale));
      trust[i] = Math.max(0.01, (1 - u * u) ** 2);
    }
  }
  return trend;
}
