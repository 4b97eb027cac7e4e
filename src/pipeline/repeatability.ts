import type { Curve, FrequencyRange } from '../curve/curve.js';
import { sliceCurve } from '../curve/sliceCurve.js';
import { smoothOctave } from '../curve/smoothOctave.js';
import { InputError } from '../inputError.js';
import type { DesignRequest } from './designRequest.js';
import type { DiagnosedMeasurements } from './diagnoseMeasurements.js';
import { countedWeights } from './errorFigures.js';

/** How well a measurement repeats. */
export interface Repeatability {
  /** RMS of one measurement about the mean of many. */
  readonly db: number;
  readonly source: 'given' | 'estimated';
  /** Measurements of one position that it was estimated from. */
  readonly measurements?: number;
}

/**
 * What is given, else what measurements of the same position say; undefined where neither is there.
 *
 * @param zones spans that do not count
 * @throws InputError where a repeated measurement does not reach over the range
 */
export function repeatabilityOf(
  { repeatabilityDb, repeats = [], smoothingOctaves }: DesignRequest,
  { prepared, range }: DiagnosedMeasurements,
  zones: readonly FrequencyRange[],
): Repeatability | undefined {
  if (repeatabilityDb !== undefined) return { db: repeatabilityDb, source: 'given' };
  if (!prepared.repeats) return undefined;
  const points = (curve: Curve) => sliceCurve(curve, range).frequencyHz.length;
  const short = prepared.repeats.findIndex((curve) => points(curve) < points(prepared.curve));
  if (short > 0) {
    const { fileName, curve } = repeats[short - 1]!;
    throw new InputError(
      `${fileName}: found ${figures(curve.frequencyHz[0]!)} to ${figures(curve.frequencyHz.at(-1)!)} Hz, expected at least ` +
        `the range of the fit, ${figures(range.fromHz)} to ${figures(range.toHz)} Hz, as a repeated measurement`,
    );
  }
  return estimateRepeatability(prepared.repeats, range, smoothingOctaves, zones);
}

const figures = (hz: number): number => Number(hz.toPrecision(4));

/**
 * Estimated from measurements of the same position: standard deviation over them (n − 1 in the denominator), each about
 * its own mean level, as an RMS over the range on curves smoothed as the error is, every octave weighing the same.
 *
 * @param curves at least two, on one grid
 * @param leftOut spans that do not count
 */
function estimateRepeatability(
  curves: readonly Curve[],
  range: FrequencyRange,
  smoothingOctaves: number,
  leftOut: readonly FrequencyRange[],
): Repeatability {
  const inRange = curves.map((curve) => sliceCurve(smoothOctave(curve, smoothingOctaves), range));
  const { frequencyHz } = inRange[0]!;
  const weight = countedWeights(frequencyHz, leftOut);
  const total = weight.reduce((sum, w) => sum + w, 0) || 1;
  const shapes = inRange.map(({ levelDb }) => {
    const mean = levelDb.reduce((sum, db, i) => sum + weight[i]! * db, 0) / total;
    return levelDb.map((db) => db - mean);
  });
  const variance = frequencyHz.reduce((sum, _, i) => {
    const mean = shapes.reduce((all, shape) => all + shape[i]!, 0) / shapes.length;
    const squares = shapes.reduce((all, shape) => all + (shape[i]! - mean) ** 2, 0);
    return sum + (weight[i]! * squares) / (shapes.length - 1);
  }, 0);
  return { db: Math.sqrt(variance / total), source: 'estimated', measurements: curves.length };
}
