import { smoothOctave } from '../curve/smoothOctave.js';
import { weightedRms } from '../curve/weightedRms.js';
import { log2 } from '../elementary/logarithm.js';
import { upperMedian } from '../elementary/upperMedian.js';
import type { Comparison } from './comparison.js';
import type { Smoothings } from './smoothedAlike.js';

/** What a third of an octave levels out is fine structure. */
const FINE_OCTAVES = 1 / 3;
/** Level and what is wider are no matter of smoothing. */
const LEVEL_OCTAVES = 1;
/** Below this two curves do not differ by a smoothing that matters. */
const LEAST_DB = 0.5;
/** Of less fine structure smoothing takes too little to be told, and nothing that would look like another room. */
const LEAST_SMOOTHED_DB = 1;
/** Widths in octaves, as parts, over which curves are smoothed for looking at. `common practice, no published source` */
const SMOOTHED_OVER = [12, 6, 3, 2, 1];
/**
 * Share of what the two differ by that is left once the other has been smoothed as well. Two curves with unrelated fine
 * structure of one size keep √½ of it. Of 14 simulated rooms, moves of 2 to 40 cm, missing filters and other
 * microphones among them, kept 0.67 and more; 42 curves that had been smoothed kept 0.06 to 0.31.
 */
const LEFT_BY_SMOOTHING = 0.45;
/** Where the curve itself shows its width, that the two come nearer to each other is enough. */
const LEFT_BY_SHOWN = 0.8;

/** From there on a room's fine structure is dense. */
const FINEST_FROM_HZ = 200;
const LEAST_IN_OCTAVE = 16;
const FEWEST_OCTAVES = 4;
/** What files round to. */
const LEAST_STRAY_DB = 0.005;
/**
 * How far, in octaves of size, the fine structure must fall short on average. In 200 checks in ten simulated rooms, from 1 to 20 cm
 * aside, it fell short by 0.60 at most; smoothed over 1/12 octave (50) by 0.65 to 1.4, over 1/6 (10) by 1.99 and more. A noisier
 * measurement has more of it, so that the first of the two must fall short by more.
 */
const LESS_FINE = 0.75;
const LESS_FINE_BEFORE = 0.9;

/** RMS over the range of what is finer than a third of an octave, in dB, in both measurements. */
export function fineStructureDb(comparison: Comparison): Smoothings {
  const { beforeDb, afterDb } = comparison;
  return {
    before: beyondDb(comparison, beforeDb, FINE_OCTAVES),
    after: beyondDb(comparison, afterDb, FINE_OCTAVES),
  };
}

/**
 * Whether one of two measurements is the other smoothed, and over how many octaves. Filters that are not as promised
 * differ by what is wide, a smoothing by what is fine, so it is enough that either comes close.
 *
 * @param comparison as they came
 * @param shown the widths that the curves themselves show
 */
export function smoothedOtherwise(
  comparison: Comparison,
  shown: { readonly before?: number | undefined; readonly after?: number | undefined } = {},
): Smoothings | undefined {
  if (shown.before !== undefined && shown.before === shown.after) return undefined;
  const { frequencyHz, beforeDb, afterDb, promisedDb } = comparison;
  const wholeDb = beforeDb.map((db, i) => db + promisedDb[i]!);
  const smooth = (levelDb: Float64Array, octaves: number) =>
    smoothOctave({ frequencyHz, levelDb }, octaves).levelDb;
  const fine = fineStructureDb(comparison);
  const isAfter = fine.after < fine.before;
  /** What is left between them, level and what is wide left out, against what there was. */
  const left = ({ before, after }: Smoothings, beyondOctaves: number) => {
    const apart = (one: Float64Array, other: Float64Array) =>
      beyondDb(
        comparison,
        one.map((db, i) => db - other[i]!),
        beyondOctaves,
      );
    const asTheyCame = apart(afterDb, wholeDb);
    return asTheyCame < LEAST_DB ? 1 : apart(smooth(afterDb, before), smooth(wholeDb, after)) / asTheyCame;
  };
  if (shown.before !== undefined || shown.after !== undefined) {
    const told = { before: shown.before ?? 0, after: shown.after ?? 0 };
    if (left(told, FINE_OCTAVES) < LEFT_BY_SHOWN) return told;
  }
  if (Math.max(fine.before, fine.after) < LEAST_SMOOTHED_DB) return undefined;
  const possible = SMOOTHED_OVER.map((part) => {
    const smoothings = isAfter ? { before: 0, after: 1 / part } : { before: 1 / part, after: 0 };
    const share = Math.min(left(smoothings, LEVEL_OCTAVES), left(smoothings, FINE_OCTAVES));
    return { smoothings, share };
  });
  const closest = possible.reduce((a, b) => (b.share < a.share ? b : a));
  return closest.share < LEFT_BY_SMOOTHING ? closest.smoothings : undefined;
}

/**
 * The same from another place, where the fine structure has become another one and smoothing brings the two no nearer:
 * then its size tells, which no place and no filter changes in all octaves alike.
 */
export function smoothedElsewhere(comparison: Comparison): Smoothings | undefined {
  const { frequencyHz, beforeDb, afterDb, promisedDb } = comparison;
  const fineDb = fineStructureDb(comparison);
  if (Math.max(fineDb.before, fineDb.after) < LEAST_SMOOTHED_DB) return undefined;
  const wholeDb = beforeDb.map((db, i) => db + promisedDb[i]!);
  const [before, after] = [finestDb(frequencyHz, wholeDb), finestDb(frequencyHz, afterDb)];
  if (before.length < FEWEST_OCTAVES) return undefined;
  const finer = meanLog2Ratio(after, before);
  if (finer > -LESS_FINE && finer < LESS_FINE_BEFORE) return undefined;
  const isAfter = finer < 0;
  const [fine, smooth] = isAfter ? [wholeDb, after] : [afterDb, before];
  const distance = (part: number) => {
    const smoothed = smoothOctave({ frequencyHz, levelDb: fine }, 1 / part).levelDb;
    return Math.abs(meanLog2Ratio(smooth, finestDb(frequencyHz, smoothed)));
  };
  const part = SMOOTHED_OVER.reduce((a, b) => (distance(b) < distance(a) ? b : a));
  return isAfter ? { before: 0, after: 1 / part } : { before: 1 / part, after: 0 };
}

/** How far levels stray from the mean of their neighbours: the median over each octave from 200 Hz on. */
function finestDb(frequencyHz: Float64Array, levelDb: Float64Array): number[] {
  const octaves: number[][] = [];
  for (let i = 1; i < levelDb.length - 1; i++) {
    if (frequencyHz[i]! < FINEST_FROM_HZ) continue;
    const octave = Math.floor(log2(frequencyHz[i]! / FINEST_FROM_HZ));
    const stray = Math.abs(levelDb[i]! - (levelDb[i - 1]! + levelDb[i + 1]!) / 2);
    const strays = octaves[octave];
    if (strays) strays.push(stray);
    else octaves[octave] = [stray];
  }
  return octaves.filter(({ length }) => length >= LEAST_IN_OCTAVE).map(upperMedian);
}

function meanLog2Ratio(a: readonly number[], b: readonly number[]): number {
  return a.reduce((sum, v, i) => sum + log2((v + LEAST_STRAY_DB) / (b[i]! + LEAST_STRAY_DB)), 0) / a.length;
}

function beyondDb({ frequencyHz, range }: Comparison, levelDb: Float64Array, octaves: number): number {
  const inRange = frequencyHz.map((hz) => (hz >= range.fromHz && hz <= range.toHz ? 1 : 0));
  const coarse = smoothOctave({ frequencyHz, levelDb }, octaves).levelDb;
  return weightedRms(
    levelDb.map((db, i) => db - coarse[i]!),
    inRange,
  );
}
