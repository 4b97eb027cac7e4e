import { log2 } from '../elementary/logarithm.js';
import { slidingTrend } from './slidingTrend.js';

/** Where a difference is greatest, and how great. */
export interface Hump {
  readonly frequencyHz: number;
  readonly db: number;
}

const SMOOTHED_OCTAVES = 1 / 3;
/** Nearer than that two are one, or one is the flank of the other. */
const LEAST_APART_OCTAVES = 0.75;
const LEAST_DB = 1;
/** Beside a great one the shoulders of it and the room's ripple are not worth a word. */
const LEAST_SHARE = 0.35;
const MOST = 3;

/** The greatest broad rises and falls of a difference about its mean, the greatest first. */
export function humpsOf(frequencyHz: Float64Array, differenceDb: Float64Array): Hump[] {
  const octave = frequencyHz.map(log2);
  const trendDb = slidingTrend(octave, differenceDb, SMOOTHED_OCTAVES);
  const mean = trendDb.reduce((sum, db) => sum + db, 0) / trendDb.length;
  const strength = (i: number) => Math.abs(trendDb[i]! - mean);
  const least = Math.max(LEAST_DB, LEAST_SHARE * Math.max(...octave.map((_, i) => strength(i))));
  const summits = Array.from(octave, (_, i) => i)
    .filter((i) => [i - 1, i + 1].every((j) => !(strength(j) > strength(i))) && strength(i) >= least)
    .sort((a, b) => strength(b) - strength(a));
  const found: number[] = [];
  for (const i of summits) {
    const isApart = found.every((j) => Math.abs(octave[i]! - octave[j]!) >= LEAST_APART_OCTAVES);
    if (isApart && found.length < MOST) found.push(i);
  }
  return found.map((i) => ({ frequencyHz: frequencyHz[i]!, db: trendDb[i]! - mean }));
}
