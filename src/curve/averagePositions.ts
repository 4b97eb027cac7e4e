import { InputError } from '../inputError.js';
import type { Curve } from './curve.js';
import { logGrid } from './logGrid.js';
import { octaveWeights } from './octaveWeights.js';
import { dbOfPower, powerOfDb } from './powerIntegral.js';
import { resampleToGrid } from './resampleToGrid.js';
import { sliceCurve } from './sliceCurve.js';

/**
 * Power average over microphone positions, and how far the positions differ in shape.
 *
 * The common grid is the span that all curves cover: their own points where these are the same in all of them,
 * else 48 points an octave. The average keeps each position's level, so a nearer position weighs more, as it does
 * for a listener who moves. The spread is the standard deviation over positions (n − 1 in the denominator) after
 * each position's mean difference from the average, every octave weighing the same, has been taken out: it tells
 * how much the shape depends on the position and not how loud each was. One position has spread 0.
 * The average has no phase.
 *
 * @throws InputError where the curves have no span in common
 */
export function averagePositions(curves: readonly Curve[]): {
  readonly curve: Curve;
  readonly spreadDb: Float64Array;
} {
  const onGrid = toCommonGrid(curves);
  const frequencyHz = onGrid[0]!.frequencyHz;
  const levelDb = frequencyHz.map((_, i) => {
    // Relative to the loudest, so that no absolute scale can overflow and one curve averages to itself.
    const top = Math.max(...onGrid.map((c) => c.levelDb[i]!));
    const power = onGrid.reduce((sum, c) => sum + powerOfDb(c.levelDb[i]! - top), 0) / onGrid.length;
    return top + dbOfPower(power);
  });

  const weight = octaveWeights(frequencyHz);
  const shapes = onGrid.map((c) => {
    const difference = c.levelDb.map((l, i) => l - levelDb[i]!);
    const offset = difference.reduce((sum, d, i) => sum + weight[i]! * d, 0);
    return difference.map((d) => d - offset);
  });
  const spreadDb = frequencyHz.map((_, i) => {
    if (shapes.length < 2) return 0;
    const mean = shapes.reduce((sum, s) => sum + s[i]!, 0) / shapes.length;
    return Math.sqrt(shapes.reduce((sum, s) => sum + (s[i]! - mean) ** 2, 0) / (shapes.length - 1));
  });
  return { curve: { frequencyHz, levelDb }, spreadDb };
}

function toCommonGrid(curves: readonly Curve[]): readonly Curve[] {
  if (curves.length === 0) throw new InputError('no measurement was given, at least one is expected');
  const range = {
    fromHz: Math.max(...curves.map((c) => c.frequencyHz[0]!)),
    toHz: Math.min(...curves.map((c) => c.frequencyHz[c.frequencyHz.length - 1]!)),
  };
  const grid = logGrid(range.fromHz, range.toHz);
  if (grid.length < 2) {
    const spans = curves.map(({ frequencyHz: f }) => `${figures(f[0]!)} to ${figures(f[f.length - 1]!)} Hz`);
    throw new InputError(
      `the measurements have no span of frequency in common, or next to none: ${spans.join('; ')}`,
    );
  }
  const slices = curves.map((c) => sliceCurve(c, range));
  const first = slices[0]!.frequencyHz;
  const same = slices.every(
    (s) =>
      s.frequencyHz.length === first.length &&
      s.frequencyHz.every((f, i) => Math.abs(f / first[i]! - 1) < 1e-9),
  );
  if (same && first.length > 1) return slices;
  return curves.map((c) => resampleToGrid(c, grid));
}

const figures = (hz: number): number => Number(hz.toPrecision(3));
