import { windowMean } from '../diagnosis/features/windowMean.js';
import { log2 } from '../elementary/logarithm.js';

/** What the heights are taken over: 1.5 octaves in all, as the diagnosis has it. */
const AROUND_OCTAVES = 0.75;
const FROM_HZ = 60;
const TO_HZ = 1000;

/** Levels over the mean of the 1.5 octaves around, on a log grid. */
export function heightsDb(frequencyHz: Float64Array, levelDb: Float64Array): Float64Array {
  const around = windowMean(frequencyHz.map(log2), levelDb, AROUND_OCTAVES);
  return levelDb.map((db, i) => db - around[i]!);
}

/** RMS of those heights between 60 Hz and 1 kHz, where placement decides: what dips and peaks amount to. */
export function unevennessDb(frequencyHz: Float64Array, levelDb: Float64Array): number {
  const heights = heightsDb(frequencyHz, levelDb).filter(
    (_, i) => frequencyHz[i]! >= FROM_HZ && frequencyHz[i]! <= TO_HZ,
  );
  return Math.sqrt(heights.reduce((sum, db) => sum + db * db, 0) / Math.max(1, heights.length));
}
