import { log2 } from '../elementary/logarithm.js';
import { slidingTrend } from './slidingTrend.js';

export interface ShiftedFeature {
  readonly beforeHz: number;
  readonly afterHz: number;
}

const TREND_OCTAVES = 1.5;
const LEAST_DEPTH_DB = 2.5;
/** What must be left of a dip with the filters on, which may lift the place where it went. */
const LEAST_SEEN_DB = 1;
/** The bottom of a dip lies so near to where the stretch about it fits best. */
const BOTTOM_OCTAVES = 1 / 6;
/** Reflections higher up change with every centimetre. */
const HIGHEST_HZ = 1500;
const WINDOW_OCTAVES = 0.45;
const FARTHEST_OCTAVES = 0.7;
const LEAST_OCTAVES = 0.05;
const LEAST_CORRELATION = 0.6;
/** How much better the curves must agree at the new place than at the old one. */
const LEAST_GAIN = 0.2;

/**
 * Dips of one curve that another shows at a different frequency: the stretch of log frequency about the dip is laid
 * over the other curve and moved until they agree best. There must be a dip there as well, also in what was really
 * measured: where the filters' promise is taken off a curve that does not have them, their mirror image looks like dips.
 *
 * @param frequencyHz n points, evenly spaced on log frequency
 * @param afterDb with the filters taken off
 * @param measuredDb with the filters on
 */
export function shiftedFeatures(
  frequencyHz: Float64Array,
  beforeDb: Float64Array,
  afterDb: Float64Array,
  measuredDb: Float64Array,
): ShiftedFeature[] {
  const octave = frequencyHz.map(log2);
  const step = octave[1]! - octave[0]!;
  const ripple = (db: Float64Array) => {
    const trend = slidingTrend(octave, db, TREND_OCTAVES);
    return slidingTrend(
      octave,
      db.map((v, i) => v - trend[i]!),
      1 / 8,
    );
  };
  const before = ripple(beforeDb);
  const after = ripple(afterDb);
  const measured = ripple(measuredDb);
  const half = Math.round(WINDOW_OCTAVES / step);
  const farthest = Math.round(FARTHEST_OCTAVES / step);
  const around = Math.round(BOTTOM_OCTAVES / step);
  /** By the place of the dip: of two that seem to have gone to one, the one that agrees better. */
  const found = new Map<number, { readonly from: number; readonly agreement: number }>();
  for (let i = half; i + half < before.length; i++) {
    if (frequencyHz[i]! > HIGHEST_HZ || before[i]! > -LEAST_DEPTH_DB) continue;
    if (before[i]! > before[i - 1]! || before[i]! >= before[i + 1]!) continue;
    const agreement = (shift: number) => correlation(before, i - half, after, i - half + shift, 2 * half + 1);
    let best = 0;
    for (let shift = -farthest; shift <= farthest; shift++) {
      if (agreement(shift) > agreement(best)) best = shift;
    }
    const isElsewhere =
      Math.abs(best) * step >= LEAST_OCTAVES &&
      Math.abs(best) < farthest &&
      agreement(best) > LEAST_CORRELATION &&
      agreement(best) > agreement(0) + LEAST_GAIN;
    if (!isElsewhere) continue;
    const bottom = bottomNear(after, i + best, around);
    const isThere =
      bottom !== undefined &&
      after[bottom]! <= -LEAST_DEPTH_DB &&
      measured.subarray(Math.max(0, bottom - around), bottom + around + 1).some((db) => db <= -LEAST_SEEN_DB);
    if (isThere && agreement(best) > (found.get(bottom)?.agreement ?? 0))
      found.set(bottom, { from: i, agreement: agreement(best) });
  }
  return Array.from(found, ([bottom, { from }]) => ({
    beforeHz: frequencyHz[from]!,
    afterHz: frequencyHz[bottom]!,
  })).sort((a, b) => a.beforeHz - b.beforeHz);
}

/** The deepest place within so many points of one, unless the curve goes on falling beyond them. */
function bottomNear(db: Float64Array, at: number, around: number): number | undefined {
  let bottom = Math.max(1, at - around);
  for (let i = bottom; i <= Math.min(db.length - 2, at + around); i++) if (db[i]! < db[bottom]!) bottom = i;
  return db[bottom - 1]! < db[bottom]! || db[bottom + 1]! < db[bottom]! ? undefined : bottom;
}

/** Of two stretches about their own means; −1 where one of them does not lie within its curve. */
function correlation(a: Float64Array, fromA: number, b: Float64Array, fromB: number, count: number): number {
  if (fromA < 0 || fromB < 0 || fromA + count > a.length || fromB + count > b.length) return -1;
  let meanA = 0;
  let meanB = 0;
  for (let i = 0; i < count; i++) {
    meanA += a[fromA + i]! / count;
    meanB += b[fromB + i]! / count;
  }
  let ab = 0;
  let aa = 0;
  let bb = 0;
  for (let i = 0; i < count; i++) {
    const x = a[fromA + i]! - meanA;
    const y = b[fromB + i]! - meanB;
    ab += x * y;
    aa += x * x;
    bb += y * y;
  }
  return aa > 0 && bb > 0 ? ab / Math.sqrt(aa * bb) : 0;
}
