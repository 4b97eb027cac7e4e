import { log2 } from '../elementary/logarithm.js';
import type { Curve } from './curve.js';
import { lowerIndex } from './lowerIndex.js';
import { monotoneInterpolation } from './monotoneInterpolation.js';
import { dbOfPower } from './powerIntegral.js';
import { windowPower } from './windowPower.js';

/**
 * A curve on the points of `gridHz` that lie within its data; no point is made up outside.
 *
 * Where the source has two points or more to a grid cell (from half-way to half-way, on log frequency) the level
 * is the mean power of the cell, taken over the straight-line interpolant and not over the points, so that it
 * does not depend on where the points happen to lie. Where the source is no denser than the grid it is the
 * monotone interpolant, so that a curve that is on the grid already stays as it is. Between the two densities
 * one passes into the other. Cells shrink at the ends of the data as smoothing windows do.
 * Phase is interpolated straight over frequency, on which a delay is a straight line.
 *
 * @param gridHz ascending, positive
 */
export function resampleToGrid(curve: Curve, gridHz: Float64Array): Curve {
  const source = curve.frequencyHz;
  const n = source.length;
  // The same point computed in two ways may differ in the last digit.
  const slack = 1e-9;
  const inside = gridHz.filter((f) => f >= source[0]! * (1 - slack) && f <= source[n - 1]! * (1 + slack));
  const octave = source.map(log2);
  const start = octave[0]!;
  const end = octave[n - 1]!;
  const at = inside.map((f) => Math.min(end, Math.max(start, log2(f))));

  const half = at.map((x, i) => {
    const below = at[i - 1] ?? 2 * x - (at[i + 1] ?? x);
    const above = at[i + 1] ?? 2 * x - (at[i - 1] ?? x);
    return Math.max(0, Math.min((above - below) / 4, x - start, end - x));
  });
  const cellPower = windowPower(
    octave,
    curve.levelDb,
    at.map((x, i) => x - half[i]!),
    at.map((x, i) => x + half[i]!),
  );
  const pointDb = monotoneInterpolation(octave, curve.levelDb);
  const levelDb = at.map((x, i) => {
    const share = averagingShare(octave, x, half[i]!);
    const point = share < 1 ? pointDb(x) : 0;
    const cell = share > 0 ? dbOfPower(cellPower[i]!) : 0;
    return share * cell + (1 - share) * point;
  });
  if (curve.phaseRad === undefined) return { frequencyHz: inside, levelDb };
  return { frequencyHz: inside, levelDb, phaseRad: interpolateLinear(source, curve.phaseRad, inside) };
}

/** 0 where source points are at least a cell apart, 1 where at most half a cell, smooth in between. */
function averagingShare(octave: Float64Array, x: number, half: number): number {
  const i = Math.min(octave.length - 2, Math.max(0, lowerIndex(octave, x)));
  const spacing = octave[i + 1]! - octave[i]!;
  const t = Math.min(1, Math.max(0, (2 * half) / spacing - 1));
  return t < 1e-6 ? 0 : t * t * (3 - 2 * t);
}

function interpolateLinear(x: Float64Array, y: Float64Array, at: Float64Array): Float64Array {
  return at.map((v) => {
    const i = Math.min(x.length - 2, Math.max(0, lowerIndex(x, v)));
    const t = Math.min(1, Math.max(0, (v - x[i]!) / (x[i + 1]! - x[i]!)));
    return y[i]! + t * (y[i + 1]! - y[i]!);
  });
}
