import type { Curve } from '../curve/curve.js';
import { resampleToGrid } from '../curve/resampleToGrid.js';
import { sliceCurve } from '../curve/sliceCurve.js';
import { pow2 } from '../elementary/exponential.js';
import { cos, sin } from '../elementary/sine.js';

export const PER_OCTAVE = 48;
/** A source with fewer points to the octave shows nothing at the upper rates. */
const LEAST_POINTS = 40;
/** Source points this far outside of the octave are enough to resample it. */
const MARGIN = 1.05;

/**
 * How fast a curve wiggles over one octave: mean square in dB² of its components at 0, 1, … 23 cycles per octave,
 * a straight line taken out first, Hann window.
 *
 * @returns undefined where the data do not cover the octave above `fromHz` densely enough
 */
export function wiggleSpectrum(curve: Curve, fromHz: number): Float64Array | undefined {
  const octave = sliceCurve(curve, { fromHz: fromHz / MARGIN, toHz: 2 * fromHz * MARGIN });
  if (octave.frequencyHz.length < LEAST_POINTS) return undefined;
  const grid = Float64Array.from({ length: PER_OCTAVE + 1 }, (_, i) => fromHz * pow2(i / PER_OCTAVE));
  const level = resampleToGrid(octave, grid).levelDb;
  if (level.length < grid.length) return undefined;
  const windowed = hannWindowed(withoutLine(level));
  return Float64Array.from({ length: PER_OCTAVE / 2 }, (_, cycles) => meanSquareAt(windowed, cycles));
}

export function withoutLine(values: Float64Array): Float64Array {
  const n = values.length;
  const centre = (n - 1) / 2;
  const mean = values.reduce((sum, v) => sum + v, 0) / n;
  const moment = values.reduce((sum, v, i) => sum + v * (i - centre), 0);
  const slope = moment / values.reduce((sum, _, i) => sum + (i - centre) ** 2, 0);
  return values.map((v, i) => v - mean - slope * (i - centre));
}

/** Scaled to keep the mean square. */
export function hannWindowed(values: Float64Array): Float64Array {
  const n = values.length;
  return values.map((v, i) => v * Math.sqrt(2 / 3) * (1 - cos((2 * Math.PI * (i + 0.5)) / n)));
}

/** Mean square of the component at so many cycles per octave, of values on `PER_OCTAVE` points to the octave. */
export function meanSquareAt(values: Float64Array, cycles: number): number {
  const step = (2 * Math.PI * cycles) / PER_OCTAVE;
  const re = values.reduce((sum, v, i) => sum + v * cos(step * i), 0);
  const im = values.reduce((sum, v, i) => sum + v * sin(step * i), 0);
  return (2 * (re * re + im * im)) / values.length ** 2;
}
