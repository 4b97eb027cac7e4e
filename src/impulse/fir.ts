import type { Curve } from '../curve/curve.js';
import { interpolateLevel } from '../curve/interpolateLevel.js';
import { logGrid } from '../curve/logGrid.js';
import { octaveWeights } from '../curve/octaveWeights.js';
import { weightedRms } from '../curve/weightedRms.js';
import { exp } from '../elementary/exponential.js';
import { log10 } from '../elementary/logarithm.js';
import { hypot } from '../elementary/power.js';
import { sin } from '../elementary/sine.js';
import { minimumPhaseImpulse } from './phase/minimumPhaseImpulse.js';
import { inverseRealFft, powerOfTwoAtLeast, realFft } from './samples/fft.js';

/** How far a filter of finite length strays from the levels that were asked for. */
export interface FirError {
  readonly rmsDb: number;
  readonly maxDb: number;
  readonly maxAtHz: number;
  /** Over this span: the curve's own, below half the sample rate. Every octave weighs the same. */
  readonly fromHz: number;
  readonly toHz: number;
}

export interface FirFilter {
  readonly taps: Float64Array;
  readonly sampleRateHz: number;
  /** Beyond its minimum phase: 0, or half the length for linear phase. */
  readonly delaySamples: number;
  readonly error: FirError;
}

/** Transform at least this much longer than the filter: the aliasing of cepstrum and response is then negligible. */
const oversize = 4;
const leastSize = 1 << 16;
/** Share of a response's length over which its end is faded out. */
const fadedShare = 1 / 4;

/**
 * A finite minimum-phase filter with the levels of a curve (its phase plays no part), by the folded cepstrum.
 * Beyond the curve's ends its end levels are held. Its phase is the one that the levels call for, like that of the
 * filters of an equalizer; it has no delay.
 *
 * @param length number of taps; a dip or peak of width Δf needs about sampleRateHz/Δf of them
 */
export function minimumPhaseFir(curve: Curve, sampleRateHz: number, length: number): FirFilter {
  const size = sizeFor(length);
  const logMagnitude = logMagnitudeOfCurve(curve, sampleRateHz, size);
  const taps = minimumPhaseImpulse(logMagnitude)
    .slice(0, length)
    .map((v, n) => v * endFade(length - n, fadedShare * length));
  return { taps, sampleRateHz, delaySamples: 0, error: firError(taps, curve, sampleRateHz) };
}

/**
 * A finite linear-phase filter with the levels of a curve. It delays everything by half its length (`delaySamples`)
 * and rings before a sound as long as after it. A filter of even length begins with a tap of 0, so that the delay is
 * a whole number of samples.
 */
export function linearPhaseFir(curve: Curve, sampleRateHz: number, length: number): FirFilter {
  const size = sizeFor(length);
  const logMagnitude = logMagnitudeOfCurve(curve, sampleRateHz, size);
  const bins = new Float64Array(size + 2);
  logMagnitude.forEach((l, k) => {
    bins[2 * k] = exp(l);
  });
  const centred = inverseRealFft({ size, bins });
  const delaySamples = Math.floor(length / 2);
  const reach = length % 2 === 0 ? delaySamples - 1 : delaySamples;
  const taps = Float64Array.from({ length }, (_, n) => {
    const offset = Math.abs(n - delaySamples);
    return offset > reach ? 0 : centred[offset]! * endFade(reach + 1 - offset, fadedShare * (reach + 1));
  });
  return { taps, sampleRateHz, delaySamples, error: firError(taps, curve, sampleRateHz) };
}

/** Half a Hann window over the last `fade` samples before an end. */
function endFade(toEnd: number, fade: number): number {
  return toEnd >= fade ? 1 : sin((Math.PI / 2) * (toEnd / fade)) ** 2;
}

function sizeFor(length: number): number {
  if (!Number.isInteger(length) || length < 16 || length > 1 << 18)
    throw new RangeError(`length must be a whole number of taps from 16 to 262144; received ${length}`);
  return powerOfTwoAtLeast(Math.max(leastSize, oversize * length));
}

function logMagnitudeOfCurve(curve: Curve, sampleRateHz: number, size: number): Float64Array {
  const stepHz = sampleRateHz / size;
  return Float64Array.from(
    { length: size / 2 + 1 },
    (_, k) => (interpolateLevel(curve, Math.max(k, 1e-3) * stepHz) * Math.LN10) / 20,
  );
}

/** Transform so much longer than the filter that its level is nearly straight between bins; bounded for the longest. */
const fineOversize = 16;
const finestSize = 1 << 20;

function firError(taps: Float64Array, curve: Curve, sampleRateHz: number): FirError {
  const wanted = powerOfTwoAtLeast(Math.max(4 * leastSize, fineOversize * taps.length));
  const size = Math.max(sizeFor(taps.length), Math.min(finestSize, wanted));
  const { bins } = realFft(taps, size);
  const fromHz = Math.max(curve.frequencyHz[0]!, sampleRateHz / size);
  const toHz = Math.min(curve.frequencyHz.at(-1)!, sampleRateHz / 2 - sampleRateHz / size);
  // Between bins the level is taken straight: the phase of a long delay turns too fast to interpolate the bins.
  const binLevelDb = (k: number) => 20 * log10(hypot(bins[2 * k]!, bins[2 * k + 1]!));
  const errorAt = (f: number): number => {
    const position = (f / sampleRateHz) * size;
    const k = Math.floor(position);
    const reached = binLevelDb(k) + (position - k) * (binLevelDb(k + 1) - binLevelDb(k));
    return reached - interpolateLevel(curve, f);
  };
  const grid = logGrid(fromHz, toHz, errorPointsPerOctave);
  const errorDb = grid.map(errorAt);
  let worst = { db: 0, hz: fromHz };
  const look = (hz: number, db: number) => {
    if (Math.abs(db) > worst.db) worst = { db: Math.abs(db), hz };
  };
  errorDb.forEach((db, i) => {
    look(grid[i]!, db);
  });
  // What a cut-off end adds ripples as densely as the bins, far more so than the grid at high frequencies.
  const spacing = sampleRateHz / size;
  for (let k = Math.ceil(fromHz / spacing); k * spacing <= toHz; k++) look(k * spacing, errorAt(k * spacing));
  const rmsDb = weightedRms(errorDb, octaveWeights(grid));
  return { rmsDb, maxDb: worst.db, maxAtHz: worst.hz, fromHz, toHz };
}

const errorPointsPerOctave = 96;
