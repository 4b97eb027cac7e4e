import type { Curve } from '../curve/curve.js';
import { pointsPerOctave } from '../curve/pointsPerOctave.js';
import { resampleToGrid } from '../curve/resampleToGrid.js';
import { exp, pow2 } from '../elementary/exponential.js';
import { log, log2 } from '../elementary/logarithm.js';
import { hannWindowed, meanSquareAt, PER_OCTAVE, withoutLine } from './wiggleSpectrum.js';

/** Means over 1/2, 1/3 and 1/6 octave are told by the curve; widths in octaves. `common practice, no published source` */
const PARTS = [2, 3, 6];
const FROM_HZ = 200;
const TO_HZ = 12_800;
/** Shorter than this, the spectrum does not resolve the zeros. */
const LEAST_OCTAVES = 5;
const ZEROS = [1, 2, 3];
const BETWEEN = [0.5, 1.5, 2.5, 3.5];
/** From the first of these to the others a mean takes 14 dB, on average; a room that has gaps by chance is as loud there. */
const FALL_DB = 10;
/** The last band looked at ends at 3.6 zeros; it takes nearly two points for each of its cycles. */
const POINTS_PER_PART = 7;
/** How far the zeros lie below what is on either side of them, on average and each. */
const DEEP_DB = 9;
const LEAST_DEEP_DB = 4;
const STEPS = [-1, -0.5, 0, 0.5, 1];
/** Between what rounding leaves in each component of a level written to one decimal and to two. */
const FLOOR_DB2 = 1e-6;
const DB_PER_NEPER = 10 / log(10);

/**
 * The width, in octaves, over which a curve was smoothed before it was written: as its comments say, or as it shows.
 *
 * A moving mean over 1/n octave has zeros at n, 2n, 3n … cycles per octave (its transform is sin(πr/n)/(πr/n)), and
 * lets something through between them. All octaves alike lack these rates then, and no others; reflections make
 * patterns even in hertz, which fill every rate over five octaves, and a calm speaker's spectrum falls without gaps.
 * Windows without such zeros (a bell, say) do not show and are known by the comments only.
 *
 * The limits were chosen on 40 simulated placements and their direct sounds, see DEVELOPERS.md for others.
 */
export function smoothingWidth(curve: Curve, comments: readonly string[] = []): number | undefined {
  const said = comments.map(widthSaid).find((width) => width !== undefined);
  return said ?? widthShown(curve);
}

/** Whether a comment says that the curve was smoothed, and does not deny it. */
export function saysSmoothed(comment: string): boolean {
  const denied = /\b(?:un|not |no |without )smooth|smooth\w*\s*[:=]?\s*(?:none|no|off|0)\b/i.test(comment);
  return /smooth(?:ed|ing)/i.test(comment) && !denied;
}

/** "Smoothing: 1/3 octave", "1/12 oct smoothed". */
function widthSaid(comment: string): number | undefined {
  if (!saysSmoothed(comment)) return undefined;
  const parts = Number(/\b1\s*\/\s*(\d{1,2})(?![\d/])/.exec(comment)?.[1]);
  return parts >= 1 ? 1 / parts : undefined;
}

function widthShown({ frequencyHz, levelDb }: Curve): number | undefined {
  if (frequencyHz.length < 2) return undefined;
  const fromHz = Math.max(FROM_HZ, frequencyHz[0]!);
  const toHz = Math.min(TO_HZ, frequencyHz.at(-1)!);
  const octaves = log2(toHz / fromHz);
  if (!(octaves >= LEAST_OCTAVES)) return undefined;
  const density = pointsPerOctave(frequencyHz, fromHz, toHz);
  const parts = PARTS.filter((n) => density >= POINTS_PER_PART * n * (1 - 1e-3));
  if (parts.length === 0) return undefined;
  const count = Math.floor(octaves * PER_OCTAVE + 1e-6) + 1;
  const grid = Float64Array.from({ length: count }, (_, i) => fromHz * pow2(i / PER_OCTAVE));
  const level = withoutLine(resampleToGrid({ frequencyHz, levelDb }, grid).levelDb);
  // Some programs take the mean of the power, some that of the level.
  const power = withoutLine(level.map((db) => DB_PER_NEPER * exp(db / DB_PER_NEPER)));
  const views = [level, power].map(hannWindowed);
  const seen = parts
    .map((n) => ({ n, depthDb: Math.max(...views.map((view) => depthOfZeros(view, n))) }))
    .filter(({ depthDb }) => depthDb >= DEEP_DB)
    .sort((a, b) => b.depthDb - a.depthDb);
  return seen[0] && 1 / seen[0].n;
}

/** How far the zeros of a mean over 1/`parts` octave lie below what is beside them; 0 where that is not what it left. */
function depthOfZeros(view: Float64Array, parts: number): number {
  const [first, ...others] = BETWEEN.map((k) => bandDb(view, k * parts, 0.1 * parts));
  if (first! - mean(others) < FALL_DB) return 0;
  const between = [first!, ...others];
  const depths = ZEROS.map(
    (k, i) => (between[i]! + between[i + 1]!) / 2 - bandDb(view, k * parts, 0.05 * parts),
  );
  return Math.min(...depths) >= LEAST_DEEP_DB ? mean(depths) : 0;
}

/** Mean square about a rate in cycles per octave, in dB. */
function bandDb(view: Float64Array, rate: number, reach: number): number {
  const square = mean(STEPS.map((step) => meanSquareAt(view, rate + step * reach)));
  return DB_PER_NEPER * log(square + FLOOR_DB2);
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, v) => sum + v, 0) / values.length;
}
