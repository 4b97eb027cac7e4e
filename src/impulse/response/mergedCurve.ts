import type { Curve } from '../../curve/curve.js';
import { octaveWeights } from '../../curve/octaveWeights.js';
import { pow2 } from '../../elementary/exponential.js';
import { log2 } from '../../elementary/logarithm.js';
import { sin } from '../../elementary/sine.js';
import type { ImpulseResponse } from '../samples/impulseResponse.js';
import { type Gate, gateImpulse } from './gate.js';
import { impulseToCurve } from './impulseToCurve.js';
import { responseGrid } from './responseGrid.js';

export interface MergedCurveOptions {
  readonly arrivalS: number;
  readonly gate: Gate;
  /** Twice what the gate resolves unless given. */
  readonly crossoverHz?: number;
  readonly frequencyHz?: Float64Array;
}

export interface MergedCurve {
  readonly curve: Curve;
  readonly crossoverHz: number;
  /** By how much the ungated part was raised to meet the gated one. */
  readonly spliceDb: number;
  /** What the whole recording resolves. */
  readonly resolvedFromHz: number;
}

/** The two curves pass into each other over this span around the crossover. */
const fadeOctaves = 1 / 2;
/** Their levels are matched over this span around it. */
const matchOctaves = 1;

/**
 * One curve from two: gated above the crossover, where the gate leaves only the speaker, ungated below, where only
 * the whole recording resolves anything. The ungated part is moved so that both have the same mean level (in dB, in
 * which the ripple of a weak reflection cancels) over the octave around the crossover.
 */
export function mergedCurve(impulse: ImpulseResponse, options: MergedCurveOptions): MergedCurve {
  const { arrivalS, gate } = options;
  const { sampleRateHz } = impulse;
  const gatedFromHz = gateImpulse(impulse, arrivalS, gate).resolvedFromHz;
  const { resolvedFromHz } = gateImpulse(impulse, arrivalS);
  const crossoverHz = options.crossoverHz ?? 2 * gatedFromHz;
  if (!(crossoverHz >= gatedFromHz))
    throw new RangeError(
      `crossoverHz must be at least ${gatedFromHz} (1/T of the gate); received ${crossoverHz}`,
    );
  const frequencyHz = options.frequencyHz ?? responseGrid({ sampleRateHz, resolutionHz: resolvedFromHz });
  const gated = impulseToCurve(impulse, { arrivalS, gate, frequencyHz }).curve;
  const whole = impulseToCurve(impulse, { arrivalS, frequencyHz }).curve;
  const spliceDb = meanDifferenceDb(gated, whole, crossoverHz);
  const nearest = frequencyHz.reduce(
    (best, f, i) => (Math.abs(f - crossoverHz) < Math.abs(frequencyHz[best]! - crossoverHz) ? i : best),
    0,
  );
  const turns =
    2 * Math.PI * Math.round((gated.phaseRad![nearest]! - whole.phaseRad![nearest]!) / (2 * Math.PI));
  const levelDb = new Float64Array(frequencyHz.length);
  const phaseRad = new Float64Array(frequencyHz.length);
  frequencyHz.forEach((f, i) => {
    const position = log2(f / crossoverHz) / fadeOctaves + 0.5;
    const share = sin((Math.PI / 2) * Math.max(0, Math.min(1, position))) ** 2;
    levelDb[i] = share * gated.levelDb[i]! + (1 - share) * (whole.levelDb[i]! + spliceDb);
    phaseRad[i] = share * gated.phaseRad![i]! + (1 - share) * (whole.phaseRad![i]! + turns);
  });
  return { curve: { frequencyHz, levelDb, phaseRad }, crossoverHz, spliceDb, resolvedFromHz };
}

function meanDifferenceDb(gated: Curve, whole: Curve, crossoverHz: number): number {
  const reach = pow2(matchOctaves / 2);
  const inside = Array.from(gated.frequencyHz.keys()).filter(
    (i) => gated.frequencyHz[i]! >= crossoverHz / reach && gated.frequencyHz[i]! <= crossoverHz * reach,
  );
  if (inside.length === 0) return 0;
  const weights = octaveWeights(Float64Array.from(inside, (i) => gated.frequencyHz[i]!));
  return inside.reduce((sum, i, j) => sum + weights[j]! * (gated.levelDb[i]! - whole.levelDb[i]!), 0);
}
