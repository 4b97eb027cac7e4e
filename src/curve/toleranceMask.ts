import { InputError } from '../inputError.js';
import type { FrequencyRange } from './curve.js';
import { interpolateLevel } from './interpolateLevel.js';

/** Limits around a target: breakpoints, joined by straight lines in dB over log frequency. */
export interface ToleranceMask {
  readonly name: string;
  /** Ascending, n breakpoints. The mask says nothing outside of them. */
  readonly frequencyHz: Float64Array;
  /** Limits of the deviation from the target. */
  readonly lowerDb: Float64Array;
  readonly upperDb: Float64Array;
}

/** A stretch in which a curve lies outside of a mask. */
export interface MaskExcess extends FrequencyRange {
  readonly side: 'above' | 'below';
  /** By how much at worst, > 0. */
  readonly worstDb: number;
  readonly worstHz: number;
}

export interface MaskResult {
  readonly within: boolean;
  readonly excesses: readonly MaskExcess[];
}

/**
 * Our own plain mask: ±3 dB from 100 Hz to 10 kHz, widening to +4/−6 dB at 50 Hz and 16 kHz.
 * Common practice, no published source.
 */
export const plainMask: ToleranceMask = toleranceMask('plain ±3 dB', [
  [50, -6, 4],
  [100, -3, 3],
  [10_000, -3, 3],
  [16_000, -6, 4],
]);

/**
 * @param breakpoints rows of frequency in Hz, lower limit and upper limit in dB, in any order
 * @throws InputError where there are fewer than two, a frequency is not positive or doubled, or limits cross
 */
export function toleranceMask(
  name: string,
  breakpoints: readonly (readonly [frequencyHz: number, lowerDb: number, upperDb: number])[],
): ToleranceMask {
  const rows = [...breakpoints].sort((a, b) => a[0] - b[0]);
  if (rows.length < 2) {
    throw new InputError(`mask "${name}" has ${rows.length} breakpoint(s), at least 2 are expected`);
  }
  rows.forEach(([hz, lower, upper], i) => {
    if (!(hz > 0 && hz < Infinity)) {
      throw new InputError(`mask "${name}": found frequency ${hz}, expected a positive number of Hz`);
    }
    if (!(lower < upper)) {
      throw new InputError(
        `mask "${name}" at ${hz} Hz: lower limit ${lower} dB must be below upper limit ${upper} dB`,
      );
    }
    if (rows[i - 1]?.[0] === hz) throw new InputError(`mask "${name}" has two breakpoints at ${hz} Hz`);
  });
  return {
    name,
    frequencyHz: Float64Array.from(rows, (r) => r[0]),
    lowerDb: Float64Array.from(rows, (r) => r[1]),
    upperDb: Float64Array.from(rows, (r) => r[2]),
  };
}

/**
 * Where a deviation from the target leaves the mask. Points outside of the mask's span are not judged.
 *
 * @param frequencyHz ascending, n points
 * @param deviationDb response minus target, n points
 */
export function evaluateMask(
  mask: ToleranceMask,
  frequencyHz: Float64Array,
  deviationDb: Float64Array,
): MaskResult {
  const lower = { frequencyHz: mask.frequencyHz, levelDb: mask.lowerDb };
  const upper = { frequencyHz: mask.frequencyHz, levelDb: mask.upperDb };
  const first = mask.frequencyHz[0]!;
  const last = mask.frequencyHz[mask.frequencyHz.length - 1]!;
  const excesses: MaskExcess[] = [];
  let open: MaskExcess | undefined;
  const close = () => {
    if (open) excesses.push(open);
    open = undefined;
  };
  for (let i = 0; i < frequencyHz.length; i++) {
    const hz = frequencyHz[i]!;
    const above = deviationDb[i]! - interpolateLevel(upper, hz);
    const below = interpolateLevel(lower, hz) - deviationDb[i]!;
    const excessDb = Math.max(above, below);
    if (hz < first || hz > last || excessDb <= 0) {
      close();
      continue;
    }
    const side = above > 0 ? 'above' : 'below';
    if (open?.side !== side) close();
    const worse = open === undefined || excessDb > open.worstDb;
    open = {
      side,
      fromHz: open?.fromHz ?? hz,
      toHz: hz,
      worstDb: worse ? excessDb : open!.worstDb,
      worstHz: worse ? hz : open!.worstHz,
    };
  }
  close();
  return { within: excesses.length === 0, excesses };
}
