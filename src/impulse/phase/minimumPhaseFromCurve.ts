import type { Curve } from '../../curve/curve.js';
import { lowerIndex } from '../../curve/lowerIndex.js';
import { log } from '../../elementary/logarithm.js';
import { bodePhase } from './bodePhase.js';

/** Density at which a curve is laid out for Bode's relation; a tenth of the finest structure a text curve shows. */
const pointsPerOctave = 192;
const stepLn = Math.LN2 / pointsPerOctave;
/** Span at either end of which the slope is taken that goes on beyond the data. */
const edgeOctaves = 1 / 2;
/** A vented box falls 24 dB an octave below its corner; nothing steeper is believed, and no rise outward. */
const steepestDbPerOctave = 24;
const neperPerDb = Math.LN10 / 20;

/**
 * Minimum phase of a measured curve, from its level alone.
 *
 * Beyond the data the level goes on with the slope of the outermost half octave, limited to between flat and
 * 24 dB an octave falling outward. What the level really does there is not known, so the outermost half octave
 * at both ends is unreliable, and a smooth share of the phase (near the upper end mostly a delay, near the lower
 * end one that falls with 1/f) stays unknown farther in.
 *
 * @returns radians at the curve's own frequencies
 */
export function minimumPhaseFromCurve(curve: Curve): Float64Array {
  const { frequencyHz } = curve;
  const count = frequencyHz.length;
  if (count < 2) return new Float64Array(count);
  const lnFrequency = frequencyHz.map(log);
  const from = lnFrequency[0]!;
  const n = Math.ceil((lnFrequency[count - 1]! - from) / stepLn) + 1;
  const logMagnitude = cellMeans(refined(lnFrequency, curve.levelDb), from, n);
  const edgePoints = Math.min(n - 1, Math.round(edgeOctaves * pointsPerOctave));
  const steepest = (steepestDbPerOctave * neperPerDb) / Math.LN2;
  const edges = {
    below: Math.min(steepest, Math.max(0, lineSlope(logMagnitude, 0, edgePoints))),
    above: Math.max(-steepest, Math.min(0, lineSlope(logMagnitude, n - 1 - edgePoints, edgePoints))),
  };
  const gridPhase = bodePhase(logMagnitude, stepLn, edges);
  return lnFrequency.map((ln) => {
    const position = (ln - from) / stepLn;
    const i = Math.min(n - 2, Math.floor(position));
    return gridPhase[i]! + (position - i) * (gridPhase[i + 1]! - gridPhase[i]!);
  });
}

interface Line {
  /** ln f, ascending. */
  readonly x: Float64Array;
  readonly db: Float64Array;
}

/**
 * The curve with points put in wherever its own lie farther apart than the grid's, on the cubic that has at every
 * point the slope of the parabola through it and its neighbours: straight lines between the points of a comb
 * would cost several degrees.
 */
function refined(x: Float64Array, db: Float64Array): Line {
  const n = x.length;
  const slope = parabolaSlopes(x, db);
  const fineX: number[] = [];
  const fineDb: number[] = [];
  for (let i = 0; i + 1 < n; i++) {
    const h = x[i + 1]! - x[i]!;
    const parts = Math.ceil(h / stepLn);
    for (let part = 0; part < parts; part++) {
      const t = part / parts;
      const s = 1 - t;
      fineX.push(x[i]! + t * h);
      fineDb.push(
        s * s * (1 + 2 * t) * db[i]! +
          t * t * (1 + 2 * s) * db[i + 1]! +
          h * s * t * (s * slope[i]! - t * slope[i + 1]!),
      );
    }
  }
  fineX.push(x[n - 1]!);
  fineDb.push(db[n - 1]!);
  return { x: Float64Array.from(fineX), db: Float64Array.from(fineDb) };
}

function parabolaSlopes(x: Float64Array, y: Float64Array): Float64Array {
  const n = x.length;
  const secant = (i: number) => (y[i + 1]! - y[i]!) / (x[i + 1]! - x[i]!);
  return x.map((_, i) => {
    if (i === 0) return secant(0);
    if (i === n - 1) return secant(n - 2);
    const share = (x[i]! - x[i - 1]!) / (x[i + 1]! - x[i - 1]!);
    return share * secant(i) + (1 - share) * secant(i - 1);
  });
}

/**
 * ln|H| on an equally spaced grid of n points in ln f: the mean over each cell of the line. Means of the
 * logarithm, since Bode's relation is linear in it. Beyond the ends the outer level is held.
 */
function cellMeans({ x, db }: Line, from: number, n: number): Float64Array {
  const last = x.length - 1;
  const area = new Float64Array(last + 1);
  for (let i = 1; i <= last; i++) area[i] = area[i - 1]! + ((x[i]! - x[i - 1]!) * (db[i]! + db[i - 1]!)) / 2;
  const areaTo = (at: number): number => {
    const i = lowerIndex(x, at);
    if (i < 0) return (at - x[0]!) * db[0]!;
    if (i >= last) return area[last]! + (at - x[last]!) * db[last]!;
    const into = at - x[i]!;
    const slope = (db[i + 1]! - db[i]!) / (x[i + 1]! - x[i]!);
    return area[i]! + into * (db[i]! + (slope * into) / 2);
  };
  const means = new Float64Array(n);
  let before = areaTo(from - stepLn / 2);
  for (let k = 0; k < n; k++) {
    const upTo = areaTo(from + (k + 0.5) * stepLn);
    means[k] = ((upTo - before) / stepLn) * neperPerDb;
    before = upTo;
  }
  return means;
}

/** Slope per ln f of the least-squares line through values[from … from + count]. */
function lineSlope(values: Float64Array, from: number, count: number): number {
  let sumXy = 0;
  let sumXx = 0;
  for (let k = 0; k <= count; k++) {
    const x = k - count / 2;
    sumXy += x * values[from + k]!;
    sumXx += x * x;
  }
  return sumXy / (sumXx * stepLn);
}
