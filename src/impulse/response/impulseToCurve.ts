import type { Curve } from '../../curve/curve.js';
import type { ImpulseResponse } from '../samples/impulseResponse.js';
import { type Gate, gateImpulse } from './gate.js';
import { responseGrid } from './responseGrid.js';
import { responseAt, transferFunction } from './transferFunction.js';

export interface ImpulseCurveOptions {
  /** From the start of the impulse response; the phase is taken from there. */
  readonly arrivalS: number;
  /** None: all there is. */
  readonly gate?: Gate;
  /** Ascending, positive, below half the sample rate; without it a grid that loses nothing. */
  readonly frequencyHz?: Float64Array;
}

export interface ImpulseCurve {
  /** Level of the plain spectrum Σ h[n]·e^(−iωn): a single sample of 1 is 0 dB. Phase from the arrival, unwrapped. */
  readonly curve: Curve;
  /** Below it the curve is only what the gate's own shape makes of the bass: not to be trusted, never to be fitted. */
  readonly resolvedFromHz: number;
}

/** Frequency response of what a gate lets through of an impulse response. */
export function impulseToCurve(impulse: ImpulseResponse, options: ImpulseCurveOptions): ImpulseCurve {
  const gated = gateImpulse(impulse, options.arrivalS, options.gate);
  const { sampleRateHz } = impulse;
  const { resolvedFromHz } = gated;
  const frequencyHz = options.frequencyHz ?? responseGrid({ sampleRateHz, resolutionHz: resolvedFromHz });
  const response = transferFunction(gated);
  const levelDb = new Float64Array(frequencyHz.length);
  const phaseRad = new Float64Array(frequencyHz.length);
  frequencyHz.forEach((f, i) => {
    const at = responseAt(response, f);
    levelDb[i] = at.levelDb;
    phaseRad[i] = at.phaseRad;
  });
  return { curve: { frequencyHz, levelDb, phaseRad }, resolvedFromHz };
}
