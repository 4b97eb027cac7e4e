import type { Curve } from '../../curve/curve.js';
import { pow2 } from '../../elementary/exponential.js';
import { log2 } from '../../elementary/logarithm.js';
import { pow10 } from '../../elementary/power.js';
import { upperMedian } from '../../elementary/upperMedian.js';
import { weightedMedian } from '../samples/weightedMedian.js';
import { minimumPhaseFromCurve } from './minimumPhaseFromCurve.js';
import { slopeOverOctaves } from './slopeOverOctaves.js';

/** The group delay at a point is the slope of the phase over this span around it (at least its two neighbours). */
const slopeOctaves = 1 / 24;
/** The delay is read from the inner part of the band, where the extrapolated ends matter little. */
const edgeOctaves = 1 / 2;

export interface ExcessPhase {
  readonly minimumPhaseRad: Float64Array;
  /** Measured phase − minimum phase − that of the pure delay, up to whole turns. */
  readonly excessPhaseRad: Float64Array;
  readonly excessGroupDelayS: Float64Array;
  /** The pure delay that was removed. */
  readonly delayS: number;
}

/**
 * What the phase of a measured curve holds beyond that which its level calls for.
 *
 * The delay is the median of the group delay of what remains after the minimum phase, weighted by the span in Hz
 * and by the amplitude, so that the treble decides; a crossover's all-pass then shows as later bass and midrange.
 *
 * @param curve with `phaseRad`, unwrapped, and spaced closely enough that the unwrapping was sure
 * @throws RangeError where there is no phase
 */
export function excessPhaseOfCurve(curve: Curve): ExcessPhase {
  const { frequencyHz, levelDb, phaseRad } = curve;
  if (!phaseRad) throw new RangeError('excess phase needs a curve with phase');
  const minimumPhaseRad = minimumPhaseFromCurve(curve);
  const rest = phaseRad.map((phase, i) => phase - minimumPhaseRad[i]!);
  const slope = slopeOverOctaves(frequencyHz, rest, slopeOctaves);
  const groupDelayS = slope.map((perHz) => -perHz / (2 * Math.PI));
  const delayS = typicalDelay(frequencyHz, levelDb, groupDelayS);
  const excess = rest.map((phase, i) => phase + 2 * Math.PI * frequencyHz[i]! * delayS);
  // Unwrapping starts anywhere, so whole turns mean nothing.
  const turns = 2 * Math.PI * Math.round(upperMedian(excess) / (2 * Math.PI));
  return {
    minimumPhaseRad,
    excessPhaseRad: excess.map((phase) => phase - turns),
    excessGroupDelayS: groupDelayS.map((delay) => delay - delayS),
    delayS,
  };
}

/**
 * Excess group delay of a measured curve at its own frequencies, the pure delay removed.
 * The outermost half octave at both ends is unreliable; see `minimumPhaseFromCurve`.
 *
 * @throws RangeError where there is no phase
 */
export function excessGroupDelayS(curve: Curve): Float64Array {
  return excessPhaseOfCurve(curve).excessGroupDelayS;
}

function typicalDelay(frequencyHz: Float64Array, levelDb: Float64Array, groupDelayS: Float64Array): number {
  const n = frequencyHz.length;
  if (n < 2) return 0;
  const octaves = log2(frequencyHz[n - 1]! / frequencyHz[0]!);
  const margin = pow2(Math.min(edgeOctaves, octaves / 4));
  const from = frequencyHz[0]! * margin;
  const to = frequencyHz[n - 1]! / margin;
  const samples: { value: number; weight: number }[] = [];
  for (let i = 0; i < n; i++) {
    const f = frequencyHz[i]!;
    if (f < from || f > to) continue;
    const spanHz = (frequencyHz[Math.min(n - 1, i + 1)]! - frequencyHz[Math.max(0, i - 1)]!) / 2;
    samples.push({ value: groupDelayS[i]!, weight: spanHz * pow10(levelDb[i]! / 20) });
  }
  return weightedMedian(samples);
}
