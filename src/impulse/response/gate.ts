import { sin } from '../../elementary/sine.js';
import type { ImpulseResponse } from '../samples/impulseResponse.js';

/**
 * The stretch of an impulse response that is kept, from `beforeS` before the arrival of the direct sound to
 * `afterS` after it. The outer half of what lies before and the last quarter of what lies after fade as half a Hann
 * window each; nothing below 1/`afterS` is resolved.
 */
export interface Gate {
  readonly beforeS: number;
  readonly afterS: number;
}

export interface GatedImpulse {
  readonly samples: Float64Array;
  readonly sampleRateHz: number;
  /** The arrival, in samples from the first of `samples`; a fraction. */
  readonly arrivalSample: number;
  /** Σ weight²: as many samples of noise get through. */
  readonly noiseSamples: number;
  /** Below it nothing is resolved: 1/T, T from the arrival to the end of the gate. */
  readonly resolvedFromHz: number;
}

const fadeBeforeShare = 1 / 2;
const fadeAfterShare = 1 / 4;

/** What the gate lets through; without a gate all there is, to at most `longestS` after the arrival, unfaded. */
export function gateImpulse(
  { samples, sampleRateHz }: ImpulseResponse,
  arrivalS: number,
  gate?: Gate,
  longestS = 10,
): GatedImpulse {
  const arrival = arrivalS * sampleRateHz;
  const before = gate ? gate.beforeS * sampleRateHz : arrival;
  const after = gate ? gate.afterS * sampleRateHz : longestS * sampleRateHz;
  const first = Math.max(0, Math.ceil(arrival - before));
  const end = Math.min(samples.length, Math.floor(arrival + after) + 1);
  const kept = samples.slice(first, Math.max(first, end));
  let noiseSamples = 0;
  for (let i = 0; i < kept.length; i++) {
    const weight = gate ? gateWeight(first + i - arrival, before, after) : 1;
    kept[i] = weight * kept[i]!;
    noiseSamples += weight * weight;
  }
  const reachS = (first + kept.length - arrival) / sampleRateHz;
  return {
    samples: kept,
    sampleRateHz,
    arrivalSample: arrival - first,
    noiseSamples,
    resolvedFromHz: 1 / (gate ? Math.min(gate.afterS, reachS) : reachS),
  };
}

/** Share of what comes at an offset from the arrival that a gate from `before` ahead of it to `after` behind it keeps. */
export function gateWeight(offset: number, before: number, after: number): number {
  const fade = offset < 0 ? fadeBeforeShare * before : fadeAfterShare * after;
  const toEdge = offset < 0 ? before + offset : after - offset;
  if (toEdge < 0) return 0;
  return toEdge >= fade ? 1 : sin((Math.PI / 2) * (toEdge / fade)) ** 2;
}
