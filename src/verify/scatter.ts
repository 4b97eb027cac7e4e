import { cholesky, solveLower } from '../elementary/cholesky.js';
import { exp } from '../elementary/exponential.js';
import { log, log1p, log2 } from '../elementary/logarithm.js';
import { hypot, pow10 } from '../elementary/power.js';
import { upperMedian } from '../elementary/upperMedian.js';
import type { Comparison } from './comparison.js';
import { slidingTrend } from './slidingTrend.js';
import { type Smoothings, widestOf } from './smoothedAlike.js';
import type { Structure } from './structure.js';

/**
 * What two measurements of one faultless installation may differ by: noise, level, and the room's fine structure
 * seen from a place a little beside the first.
 */
export interface Scatter {
  /** How far path differences have changed, RMS. */
  readonly displacementM: number;
  /** The part of the difference that is to be expected. */
  readonly meanDb: Float64Array;
  /** Which points are held against it: neighbours within what was smoothed over say the same twice. */
  readonly at: readonly number[];
  /** Cholesky factor of the covariance of these, m×m. */
  readonly lower: Float64Array;
  readonly logDeterminant: number;
  /** Standard deviation of each point in dB, level left out. */
  readonly deviationDb: Float64Array;
}

const SPEED_OF_SOUND = 343;
/** Of one cell of the grid, from both measurements together. */
const NOISE_DB = 0.17;
/** Background noise under the mean level of the curve. */
const FLOOR_DB = -35;
/** Below it a cell is narrow against what reflections do, and what differs from one to the next is noise. */
const NOISE_SEEN_BELOW_HZ = 300;
const MOST_NOISE_DB = 4;
/** Fine structure is what stands out of the mean over so many octaves: what is wider is mostly the speaker's own. */
const TREND_OCTAVES = 1 / 3;
/** Height of the structure that moves by what stands out of that mean, both RMS, and its least. */
const STRUCTURE_BY_RIPPLE = 1.9;
const LEAST_STRUCTURE_DB = 0.9;
/** Share of the fine structure that the room makes; the rest is the speaker's own and stays. */
const ROOM_SHARE = 0.6;
/** Cancellations that stand alone lie below this. */
const LONE_BELOW_HZ = 1000;
const LONE_SHARE = 0.2;
/** The microphone sees the drivers, their spacing and the box's edges from another angle. */
const ANGLE_DB = 0.24;
const ANGLE_OCTAVES = 0.3;
const ANGLE_FROM_HZ = 3000;
/**
 * Where the speaker itself has moved, whole octaves of the bass rise and fall with the first reflections and modes.
 * A microphone moved by centimetres does not do that.
 */
const MOVED_FROM_M = 0.05;
const MOVED_DB = 3;
const MOVED_OCTAVES = 0.4;
/** The level is not compared. */
const LEVEL_DB = 30;

/**
 * A path difference that changes by d turns the phase between direct and reflected sound by φ = 2π f d/c. For d of a
 * normal distribution the fine structure r keeps the share ρ = exp(−φ²/2): the difference of the two measurements
 * then has the mean −(1 − ρ)·r and the variance (1 − ρ²)·⟨r²⟩ (two Gaussian variables of correlation ρ).
 *
 * @param seenDb noise of the difference at each point (`seenNoise`)
 */
export function scatterOf(
  { frequencyHz, beforeDb, alike }: Pick<Comparison, 'frequencyHz' | 'beforeDb' | 'alike'>,
  seenDb: Float64Array,
  displacementM: number,
  { correlation, fadesFromHz, tones }: Structure,
): Scatter {
  const n = frequencyHz.length;
  const apart = cellsApart(frequencyHz, alike?.smoothings);
  const octave = frequencyHz.map(log2);
  const rippleOf = (db: Float64Array) => {
    const trendDb = slidingTrend(octave, db, TREND_OCTAVES);
    return db.map((v, i) => v - trendDb[i]!);
  };
  const rippleSquared = slidingTrend(
    octave,
    // What smoothing takes off it the correlation says, cell by cell.
    rippleOf(alike?.fineDb ?? beforeDb).map((db) => db * db),
    1,
  );
  const smoothDb = slidingTrend(octave, rippleOf(beforeDb), 1 / 8);
  const meanLevelDb = beforeDb.reduce((sum, db) => sum + db, 0) / n;

  const meanDb = new Float64Array(n);
  const structureDb = new Float64Array(n);
  const noiseDb = new Float64Array(n);
  const swingDb = new Float64Array(n);
  const angleDb = frequencyHz.map((hz) => ANGLE_DB * Math.min(2, hz / ANGLE_FROM_HZ));
  for (let i = 0; i < n; i++) {
    const phase = (2 * Math.PI * frequencyHz[i]! * displacementM) / SPEED_OF_SOUND;
    const kept = exp(-(phase * phase) / 2);
    const fade = 1 / (1 + (frequencyHz[i]! / fadesFromHz) ** 2);
    const height = fade * (LEAST_STRUCTURE_DB ** 2 + STRUCTURE_BY_RIPPLE ** 2 * rippleSquared[i]!);
    // A lone cancellation at c/(2·d0) moves by the share d/d0 = 2 f d/c of its frequency.
    const before = Math.max(0, i - 1);
    const after = Math.min(n - 1, i + 1);
    const slope = (smoothDb[after]! - smoothDb[before]!) / ((octave[after]! - octave[before]!) * Math.LN2);
    // Higher up many reflections overlap and none is alone: a steep flank there is the speaker's own.
    const moved =
      frequencyHz[i]! > LONE_BELOW_HZ
        ? 0
        : LONE_SHARE *
          Math.min(6, Math.abs(slope) * Math.min(1, (2 * frequencyHz[i]! * displacementM) / SPEED_OF_SOUND));
    meanDb[i] = -ROOM_SHARE * (1 - kept) * smoothDb[i]!;
    swingDb[i] = MOVED_DB * Math.min(1, phase);
    structureDb[i] = Math.sqrt(Math.max(height * (1 - kept * kept), moved * moved));
    const floor = 8.7 * pow10((FLOOR_DB - (beforeDb[i]! - meanLevelDb)) / 20);
    const seen = frequencyHz[i]! < NOISE_SEEN_BELOW_HZ ? Math.min(MOST_NOISE_DB, seenDb[i]!) : 0;
    noiseDb[i] = Math.max(seen, hypot(NOISE_DB, Math.min(10, floor))) / Math.sqrt(apart);
  }

  const at = Array.from({ length: Math.floor((n - 1) / apart) + 1 }, (_, k) => k * apart);
  const m = at.length;
  const near = nearnessOf(frequencyHz, at);
  const inTones = tones.map(({ db, octaves }) => ({ squared: db * db, near: near.within(octaves) }));
  const isMoved = displacementM >= MOVED_FROM_M;
  const covariance = new Float64Array(m * m);
  for (let k = 0; k < m; k++) {
    const i = at[k]!;
    for (let l = 0; l <= k; l++) {
      const j = at[l]!;
      const kl = k * m + l;
      covariance[kl] =
        structureDb[i]! * structureDb[j]! * correlation[i * n + j]! +
        inTones.reduce((sum, tone) => sum + tone.squared * tone.near[kl]!, 0) +
        angleDb[i]! * angleDb[j]! * near.inAngle[kl]! +
        (isMoved ? swingDb[i]! * swingDb[j]! * near.inMoved[kl]! : 0) +
        LEVEL_DB ** 2 +
        (i === j ? noiseDb[i]! ** 2 : 0);
    }
  }
  const lower = cholesky(covariance, m);
  let logDeterminant = 0;
  for (let k = 0; k < m; k++) logDeterminant += 2 * log(lower[k * m + k]!);
  return {
    displacementM,
    at,
    meanDb,
    lower,
    logDeterminant,
    deviationDb: structureDb.map((db, i) =>
      hypot(db * Math.sqrt(correlation[i * n + i]!), angleDb[i]!, noiseDb[i]!),
    ),
  };
}

interface Nearness {
  readonly at: readonly number[];
  readonly within: (octaves: number) => Float64Array;
  readonly inAngle: Float64Array;
  readonly inMoved: Float64Array;
}

const nearnesses = new WeakMap<Float64Array, Nearness>();

/** How near two points are to each other in three respects, m×m, lower triangle: the same for all scatters of a comparison. */
function nearnessOf(frequencyHz: Float64Array, at: readonly number[]): Nearness {
  const same = nearnesses.get(frequencyHz);
  if (same?.at.length === at.length && same.at[1] === at[1]) return same;
  const m = at.length;
  const octave = Float64Array.from(at, (i) => log2(frequencyHz[i]!));
  const known = new Map<number, Float64Array>();
  const within = (width: number) => {
    const before = known.get(width);
    if (before) return before;
    const near = new Float64Array(m * m);
    for (let k = 0; k < m; k++)
      for (let l = 0; l <= k; l++) near[k * m + l] = gaussOf((octave[k]! - octave[l]!) / width);
    known.set(width, near);
    return near;
  };
  const found = {
    at,
    within,
    inAngle: within(ANGLE_OCTAVES),
    inMoved: within(MOVED_OCTAVES),
  };
  nearnesses.set(frequencyHz, found);
  return found;
}

/** Half of what was smoothed over lies between two points that say something of their own, in cells of the grid. */
function cellsApart(frequencyHz: Float64Array, smoothings: Smoothings | undefined): number {
  if (!smoothings) return 1;
  const cell = log2(frequencyHz[1]! / frequencyHz[0]!);
  return Math.max(1, Math.round(widestOf(smoothings) / (2 * cell)));
}

const gaussOf = (x: number): number => exp(-x * x);

/**
 * Noise of a difference in dB, from its second differences, median over an octave: blind to all that is smooth, and to
 * a few wild points.
 */
export function seenNoise(frequencyHz: Float64Array, values: Float64Array): Float64Array {
  const n = values.length;
  const octave = frequencyHz.map(log2);
  const second = values.map((v, i) =>
    Math.abs(v - (values[Math.max(0, i - 1)]! + values[Math.min(n - 1, i + 1)]!) / 2),
  );
  return octave.map((x) => {
    const near = second.filter((_, i) => i > 0 && i < n - 1 && Math.abs(octave[i]! - x) <= 0.5);
    // Standard deviation √1.5 σ; the median of |normal| is 0.6745 of it.
    return near.length < 5 ? 0 : upperMedian(near) / (0.6745 * Math.sqrt(1.5));
  });
}

/** A difference in units in which every component of a faultless one has variance 1. */
export function whiten(scatter: Scatter, differenceDb: Float64Array): Float64Array {
  const { at, lower } = scatter;
  const compared = new Float64Array(at.length);
  for (let k = 0; k < at.length; k++) compared[k] = differenceDb[at[k]!]!;
  return solveLower(lower, compared);
}

/**
 * Degrees of freedom of the multivariate t distribution: the size of the scatter is known no better than from as
 * many values, so that a room livelier than assumed does not turn into certainty …
 */
const SCALE_FREEDOM = 20;
/** … except for what a microphone put back carelessly leaves: much more than that is no longer put back. */
const CARELESS_M = { from: 0.015, to: MOVED_FROM_M };
const CARELESS_FREEDOM = 120;

/** Logarithm of the likelihood, but for a constant, from the squared length of a whitened difference. */
export function logLikelihood({ at, displacementM, logDeterminant }: Scatter, squaredLength: number): number {
  const n = at.length;
  const freedom =
    displacementM > CARELESS_M.from && displacementM < CARELESS_M.to ? CARELESS_FREEDOM : SCALE_FREEDOM;
  return (
    logGamma((freedom + n) / 2) -
    logGamma(freedom / 2) -
    (n / 2) * log(freedom) -
    logDeterminant / 2 -
    ((freedom + n) / 2) * log1p(squaredLength / freedom)
  );
}

/** Stirling's series, for x ≥ 10 to 1e-8. */
const logGamma = (x: number): number =>
  (x - 0.5) * log(x) - x + log(2 * Math.PI) / 2 + 1 / (12 * x) - 1 / (360 * x * x * x);
