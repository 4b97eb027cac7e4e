import type { Curve } from '../curve/curve.js';
import { exp } from '../elementary/exponential.js';
import { log } from '../elementary/logarithm.js';
import type { Warning } from '../warning.js';
import { saysSmoothed, smoothingWidth } from './smoothingWidth.js';
import { wiggleSpectrum } from './wiggleSpectrum.js';

/** Octaves that are judged one by one; below them a room may have few enough modes to look smooth by itself. */
const OCTAVES_FROM_HZ = [500, 1000, 2000, 4000];
/** Below this much wiggling in any octave the curve is smooth by nature, and nothing can be told. */
const LEAST_RMS_DB = 0.25;

/**
 * A warning where a curve seems to have been smoothed before it was written, or where its comments say so.
 *
 * The mark of smoothing to a twelfth of an octave: in every octave alike there is wiggling, it wanes from 4 to 8
 * cycles per octave as the mean over such a window lets it, and next to nothing is left above 14. The response of a
 * room goes on well above; a few reflections wiggle the faster per octave the higher the frequency, since their
 * pattern is even in hertz, and so does a gated response; a speaker alone wiggles little; noise wiggles at all
 * rates. The limits were found by trial on measured rooms and simulated ones. Smoothing much finer than 1/12 octave
 * is not seen; a mean over 1/6, 1/3 or 1/2 octave has a mark of its own (`smoothingWidth`).
 *
 * @param comments comment lines of the measurement
 * @param name how the message calls the measurement
 */
export function looksSmoothed(
  curve: Curve,
  comments: readonly string[] = [],
  name = 'The measurement',
): readonly Warning[] {
  const said = comments.find(saysSmoothed);
  const width = said === undefined ? smoothingWidth(curve) : undefined;
  if (said === undefined && width === undefined && !showsSmoothing(curve)) return [];
  const reason =
    said !== undefined
      ? `its comments say "${said.slice(0, 60)}"`
      : width !== undefined
        ? `nothing is left in it of what a mean over 1/${Math.round(1 / width)} octave takes out`
        : 'in every octave from 500 Hz to 8 kHz its fine structure is missing while the coarser is there';
  return [
    {
      code: 'measurement-smoothed',
      message: `${name} seems to be smoothed already: ${reason}. Narrow dips are then shallower and wider than they are; export it without smoothing if you can.`,
    },
  ];
}

function showsSmoothing(curve: Curve): boolean {
  const octaves = OCTAVES_FROM_HZ.map((fromHz) => wiggleSpectrum(curve, fromHz));
  if (!octaves.every((o) => o !== undefined)) return false;
  if (octaves.some((o) => Math.sqrt(7 * mean(o, 3, 9)) < LEAST_RMS_DB)) return false;
  const fine = octaves.map((o) => mean(o, 14, 22) / mean(o, 3, 9));
  const shoulder = geometricMean(octaves.map((o) => mean(o, 7, 10) / mean(o, 3, 5)));
  const cliff = octaves.map((o) => mean(o, 15, 22) / mean(o, 7, 10));
  const [, second, third, most] = fine.toSorted((a, b) => a - b);
  return (
    most! < 0.2 &&
    (second! + third!) / 2 < 0.05 &&
    // Of even strength in hertz, fine structure would be missing mostly from the low octaves.
    fine[0]! > fine[3]! / 4 &&
    shoulder > 0.045 &&
    shoulder < 0.25 &&
    Math.max(...cliff) < 0.5
  );
}

function mean(values: Float64Array, from: number, to: number): number {
  return values.slice(from, to + 1).reduce((sum, v) => sum + v, 0) / (to - from + 1);
}

function geometricMean(values: readonly number[]): number {
  return exp(values.reduce((sum, v) => sum + log(v), 0) / values.length);
}
