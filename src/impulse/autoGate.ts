import type { Gate } from './gate.js';
import type { ImpulseResponse } from './impulseResponse.js';
import type { Paths, Reflection } from './paths.js';

/** A reflection of −20 dB makes a ripple of ±0.9 dB; weaker ones may stay. */
const strongDb = -20;
/** It must stand out of what surrounds it, or it is a part of the speaker's own decay. */
const contrastDb = 5;
/** A gate shorter than this would resolve nothing below 1 kHz; what comes earlier cannot be gated off. */
const shortestS = 1e-3;
/** The gate has closed this long before the reflection, about the width of its pulse. */
const marginS = 0.1e-3;
/** Before the arrival: enough for what a band limit puts there, more for a gate that lets the bass through. */
const shortestBeforeS = 2e-3;
const beforeShare = 1 / 5;
const longestS = 1;

/** The first reflection that a gate can and should shut out; undefined where there is none. */
export function firstStrongReflection({ reflections }: Paths): Reflection | undefined {
  return reflections.find(
    (r) => r.levelDb >= strongDb && r.contrastDb >= contrastDb && r.delayS >= shortestS + marginS,
  );
}

/** A gate that ends before the first strong reflection, or with the data, and after a second at the latest. */
export function autoGate({ samples, sampleRateHz }: ImpulseResponse, paths: Paths): Gate {
  const first = firstStrongReflection(paths);
  const rest = samples.length / sampleRateHz - paths.arrivalS;
  const afterS = first ? first.delayS - marginS : Math.min(longestS, rest);
  const beforeS = Math.max(shortestBeforeS, beforeShare * afterS);
  return { beforeS: Math.min(beforeS, paths.arrivalS), afterS };
}
