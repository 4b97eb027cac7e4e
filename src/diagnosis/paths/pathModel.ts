import { exp } from '../../elementary/exponential.js';
import { log, log10 } from '../../elementary/logarithm.js';
import { cos, sin } from '../../elementary/sine.js';

/**
 * Sound on a longer way to the microphone: strength relative to the direct sound as a straight line in ln between
 * knots over log frequency, and the length by which the way is longer.
 *
 * Parameters of a path, in this order: ln of the path difference in metres, ln of the strength at each knot.
 */
export const KNOTS_HZ: readonly number[] = [80, 250, 800, 2500];
export const PARAMETERS_PER_PATH = 1 + KNOTS_HZ.length;

/** A null is never deeper than this, neither in a measurement nor here. */
const FLOOR_POWER = 1e-3;
const DB_PER_NEPER = 20 / Math.LN10;

/** What does not change during a fit. */
export interface PathGrid {
  readonly frequencyHz: Float64Array;
  readonly speedOfSoundMs: number;
  /** For each point: the knot below it and the share of the knot above. */
  readonly knot: Int32Array;
  readonly share: Float64Array;
}

export function pathGrid(frequencyHz: Float64Array, speedOfSoundMs: number): PathGrid {
  const knot = new Int32Array(frequencyHz.length);
  const share = new Float64Array(frequencyHz.length);
  frequencyHz.forEach((f, i) => {
    let k = 0;
    while (k < KNOTS_HZ.length - 2 && f > KNOTS_HZ[k + 1]!) k++;
    const t = log(f / KNOTS_HZ[k]!) / log(KNOTS_HZ[k + 1]! / KNOTS_HZ[k]!);
    knot[i] = k;
    share[i] = Math.min(1, Math.max(0, t));
  });
  return { frequencyHz, speedOfSoundMs, knot, share };
}

/**
 * Sound that meets two planes at right angles to each other, one after the other: lengths add as squares,
 * L₁₂² = L₁² + L₂² − r², and reflection factors multiply. It has no parameters of its own.
 */
export interface PathPair {
  readonly first: number;
  readonly second: number;
  /** Straight from speaker to microphone. */
  readonly directM: number;
}

export interface PathSum {
  /** Direct sound plus reflections over the direct sound alone. */
  readonly re: Float64Array;
  readonly im: Float64Array;
  /** Level of that, in dB. */
  readonly levelDb: Float64Array;
  /** Derivative of the level by each parameter, one array a parameter. */
  derivatives(): Float64Array[];
}

/** Direct sound plus the paths whose parameters stand in `parameters`, over the direct sound alone. */
export function sumPaths(
  grid: PathGrid,
  parameters: ArrayLike<number>,
  pairs: readonly PathPair[] = [],
): PathSum {
  const { frequencyHz, knot, share } = grid;
  const n = frequencyHz.length;
  const paths = parameters.length / PARAMETERS_PER_PATH;
  const re = new Float64Array(n).fill(1);
  const im = new Float64Array(n);
  const partRe = new Float64Array(n * (paths + pairs.length));
  const partIm = new Float64Array(n * (paths + pairs.length));
  const waveNumber = (2 * Math.PI) / grid.speedOfSoundMs;
  for (let p = 0; p < paths; p++) {
    const part = {
      re: partRe.subarray(p * n, (p + 1) * n),
      im: partIm.subarray(p * n, (p + 1) * n),
    };
    addPathTo(grid, parameters, part, p * PARAMETERS_PER_PATH);
    for (let i = 0; i < n; i++) {
      re[i]! += part.re[i]!;
      im[i]! += part.im[i]!;
    }
  }
  const doubled = pairs.map((pair) => pairGeometry(pair, parameters));
  doubled.forEach(({ differenceM, factor, at, bt }, q) => {
    const row = (paths + q) * n;
    const turnPerHz = -waveNumber * differenceM;
    for (let i = 0; i < n; i++) {
      const k = knot[i]!;
      const u = share[i]!;
      const low = parameters[at + k]! + parameters[bt + k]!;
      const high = parameters[at + k + 1]! + parameters[bt + k + 1]!;
      const strength = factor * exp(low + u * (high - low));
      const phase = turnPerHz * frequencyHz[i]!;
      const a = strength * cos(phase);
      const b = strength * sin(phase);
      partRe[row + i] = a;
      partIm[row + i] = b;
      re[i]! += a;
      im[i]! += b;
    }
  });
  const levelDb = levelOfSum(re, im);
  const derivatives = (): Float64Array[] => {
    const columns = Array.from({ length: parameters.length }, () => new Float64Array(n));
    for (let p = 0; p < paths; p++) {
      const base = p * PARAMETERS_PER_PATH;
      const byLength = columns[base]!;
      const differenceM = exp(parameters[base]!);
      for (let i = 0; i < n; i++) {
        const scale = DB_PER_NEPER / (re[i]! ** 2 + im[i]! ** 2 + FLOOR_POWER);
        const a = partRe[p * n + i]!;
        const b = partIm[p * n + i]!;
        // d/d ln Δ turns the path by −kΔ: −j·kΔ·(a + jb)
        byLength[i] = scale * waveNumber * frequencyHz[i]! * differenceM * (re[i]! * b - im[i]! * a);
        const byStrength = scale * (re[i]! * a + im[i]! * b);
        const k = base + 1 + knot[i]!;
        columns[k]![i] = byStrength * (1 - share[i]!);
        columns[k + 1]![i] = byStrength * share[i]!;
      }
    }
    doubled.forEach(({ byFirstM, bySecondM, at, bt }, q) => {
      const row = (paths + q) * n;
      for (let i = 0; i < n; i++) {
        const scale = DB_PER_NEPER / (re[i]! ** 2 + im[i]! ** 2 + FLOOR_POWER);
        const a = partRe[row + i]!;
        const b = partIm[row + i]!;
        const byLength = scale * waveNumber * frequencyHz[i]! * (re[i]! * b - im[i]! * a);
        columns[at - 1]![i]! += byLength * byFirstM;
        columns[bt - 1]![i]! += byLength * bySecondM;
        const byStrength = scale * (re[i]! * a + im[i]! * b);
        const k = knot[i]!;
        const low = byStrength * (1 - share[i]!);
        const high = byStrength * share[i]!;
        columns[at + k]![i]! += low;
        columns[at + k + 1]![i]! += high;
        columns[bt + k]![i]! += low;
        columns[bt + k + 1]![i]! += high;
      }
    });
    return columns;
  };
  return { re, im, levelDb, derivatives };
}

/** Level of direct sound plus reflections over the direct sound alone, in dB. */
export function levelOfSum(re: Float64Array, im: Float64Array): Float64Array {
  return re.map((a, i) => 10 * log10((a * a + im[i]! ** 2 + FLOOR_POWER) / (1 + FLOOR_POWER)));
}

/** Adds one path, whose parameters start at `base`, to a sum. */
export function addPathTo(
  { frequencyHz, speedOfSoundMs, knot, share }: PathGrid,
  parameters: ArrayLike<number>,
  sum: { readonly re: Float64Array; readonly im: Float64Array },
  base = 0,
): void {
  const turnPerHz = -((2 * Math.PI) / speedOfSoundMs) * exp(parameters[base]!);
  for (let i = 0; i < frequencyHz.length; i++) {
    const k = base + 1 + knot[i]!;
    const strength = exp(parameters[k]! + share[i]! * (parameters[k + 1]! - parameters[k]!));
    const phase = turnPerHz * frequencyHz[i]!;
    sum.re[i]! += strength * cos(phase);
    sum.im[i]! += strength * sin(phase);
  }
}

/** What the level gains, per unit of strength, by a little more of a path `differenceM` long and flat over frequency. */
export function addedPath(
  grid: PathGrid,
  { re, im }: PathSum,
  differenceM: number,
  strength: Float64Array,
): Float64Array {
  const turnPerHz = (-2 * Math.PI * differenceM) / grid.speedOfSoundMs;
  return grid.frequencyHz.map((f, i) => {
    const phase = turnPerHz * f;
    const scale = (DB_PER_NEPER * strength[i]!) / (re[i]! ** 2 + im[i]! ** 2 + FLOOR_POWER);
    return scale * (re[i]! * cos(phase) + im[i]! * sin(phase));
  });
}

/** Strength over the grid from ln strength at the knots. */
export function strengthOver({ knot, share }: PathGrid, lnStrength: readonly number[]): Float64Array {
  return share.map((t, i) => {
    const k = knot[i]!;
    return exp(lnStrength[k]! + t * (lnStrength[k + 1]! - lnStrength[k]!));
  });
}

/**
 * Path difference of a pair, its derivatives by ln of the two single ones, the part of its strength that spreading
 * leaves, and where the strengths of the two begin. That spreading changes with length is left out of the derivatives.
 */
function pairGeometry({ first, second, directM }: PathPair, parameters: ArrayLike<number>) {
  const at = first * PARAMETERS_PER_PATH + 1;
  const bt = second * PARAMETERS_PER_PATH + 1;
  const firstM = exp(parameters[at - 1]!);
  const secondM = exp(parameters[bt - 1]!);
  const [l1, l2] = [directM + firstM, directM + secondM];
  const pathM = Math.sqrt(l1 * l1 + l2 * l2 - directM * directM);
  return {
    differenceM: pathM - directM,
    byFirstM: (l1 / pathM) * firstM,
    bySecondM: (l2 / pathM) * secondM,
    factor: (l1 * l2) / (directM * pathM),
    at,
    bt,
  };
}

/** How much longer the way by way of two planes is than the direct one, in metres. */
export function pairDifferenceM(pair: PathPair, parameters: ArrayLike<number>): number {
  return pairGeometry(pair, parameters).differenceM;
}
