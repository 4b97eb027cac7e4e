import type { Curve } from '../curve/curve.js';
import { resampleToGrid } from '../curve/resampleToGrid.js';
import { sliceCurve } from '../curve/sliceCurve.js';
import type { Warning } from '../warning.js';

/** Octaves that are judged one by one; below them a room may have few enough modes to look smooth by itself. */
const OCTAVES_FROM_HZ = [500, 1000, 2000, 4000];
const PER_OCTAVE = 48;
/** Rates of wiggling, in cycles per octave: what 1/12-octave smoothing leaves, and what it takes away. */
const COARSE = { from: 3, to: 9 };
const FINE = { from: 14, to: 22 };
/** Below this much wiggling the curve is smooth by nature, and nothing can be told. */
const LEAST_COARSE_RMS_DB = 0.25;
const MOST_FINE_TO_COARSE = 0.2;
const MEDIAN_FINE_TO_COARSE = 0.05;
const SOURCE_POINTS_PER_OCTAVE = 40;
/** Source points this far outside of an octave are enough to resample it. */
const MARGIN = 1.05;

/**
 * A warning where a curve seems to have been smoothed before it was written, or where its comments say so.
 *
 * The mark of smoothing by a fraction of an octave: in every octave alike there is wiggling up to some rate and next
 * to none above it. Rooms, and reflections in simulations, wiggle the faster per octave the higher the frequency
 * (their pattern is even in hertz); a speaker alone wiggles little anywhere; noise wiggles at all rates. None of
 * them gives this picture. Found by trial on measured room responses; smoothing finer than 1/12 octave or coarser
 * than 1/6 is mostly not seen.
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
  if (said === undefined && !showsSmoothing(curve)) return [];
  const reason =
    said === undefined
      ? 'in every octave from 500 Hz to 8 kHz its fine structure is missing while the coarser is there'
      : `its comments say "${said.slice(0, 60)}"`;
  return [
    {
      code: 'measurement-smoothed',
      message: `${name} seems to be smoothed already: ${reason}. Narrow dips are then shallower and wider than they are; export it without smoothing if you can.`,
    },
  ];
}

function saysSmoothed(comment: string): boolean {
  return (
    /smooth(?:ed|ing)/i.test(comment) &&
    !/\b(?:un|not |no |without )smooth|smooth\w*\s*[:=]?\s*(?:none|no|off|0)\b/i.test(comment)
  );
}

function showsSmoothing(curve: Curve): boolean {
  const octaves = OCTAVES_FROM_HZ.map((fromHz) => wiggling(curve, fromHz));
  if (octaves.some((o) => o === undefined || o.coarseRmsDb < LEAST_COARSE_RMS_DB)) return false;
  const ratios = octaves.map((o) => o!.fineToCoarse);
  const [, second, third, most] = ratios.toSorted((a, b) => a - b);
  const median = (second! + third!) / 2;
  // A gate, too, takes fine structure away, but mostly from the low octaves.
  const evenlySpread = ratios[0]! > ratios.at(-1)! / 4;
  return most! < MOST_FINE_TO_COARSE && median < MEDIAN_FINE_TO_COARSE && evenlySpread;
}

/** Spectrum of the level over one octave; undefined where the data do not cover it densely enough. */
function wiggling(curve: Curve, fromHz: number): { coarseRmsDb: number; fineToCoarse: number } | undefined {
  const octave = sliceCurve(curve, { fromHz: fromHz / MARGIN, toHz: 2 * fromHz * MARGIN });
  if (octave.frequencyHz.length < SOURCE_POINTS_PER_OCTAVE) return undefined;
  const grid = Float64Array.from({ length: PER_OCTAVE + 1 }, (_, i) => fromHz * 2 ** (i / PER_OCTAVE));
  const level = resampleToGrid(octave, grid).levelDb;
  if (level.length < grid.length) return undefined;
  const windowed = hannWindowed(withoutLine(level));
  const coarse = meanPower(windowed, COARSE.from, COARSE.to);
  const fine = meanPower(windowed, FINE.from, FINE.to);
  return {
    coarseRmsDb: Math.sqrt(coarse * (COARSE.to - COARSE.from + 1)),
    fineToCoarse: coarse > 0 ? fine / coarse : 0,
  };
}

function withoutLine(values: Float64Array): Float64Array {
  const n = values.length;
  const centre = (n - 1) / 2;
  const mean = values.reduce((sum, v) => sum + v, 0) / n;
  const slope =
    values.reduce((sum, v, i) => sum + v * (i - centre), 0) /
    values.reduce((sum, _, i) => sum + (i - centre) ** 2, 0);
  return values.map((v, i) => v - mean - slope * (i - centre));
}

/** Scaled to keep the mean square. */
function hannWindowed(values: Float64Array): Float64Array {
  const n = values.length;
  return values.map((v, i) => v * Math.sqrt(2 / 3) * (1 - Math.cos((2 * Math.PI * (i + 0.5)) / n)));
}

/** Mean square of the components at `from` … `to` whole cycles per octave. */
function meanPower(values: Float64Array, from: number, to: number): number {
  let sum = 0;
  for (let cycles = from; cycles <= to; cycles++) {
    const step = (2 * Math.PI * cycles) / PER_OCTAVE;
    const re = values.reduce((acc, v, i) => acc + v * Math.cos(step * i), 0);
    const im = values.reduce((acc, v, i) => acc + v * Math.sin(step * i), 0);
    sum += (2 * (re * re + im * im)) / values.length ** 2;
  }
  return sum / (to - from + 1);
}
