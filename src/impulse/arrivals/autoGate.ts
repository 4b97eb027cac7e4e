import type { Gate } from '../response/gate.js';
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

/** The first reflection that a gate can and should shut out; undefined where there is none. */
export function firstStrongReflection({ reflections }: Paths): Reflection | undefined {
  return reflections.find(
    (r) => r.levelDb >= strongDb && r.contrastDb >= contrastDb && r.delayS >= shortestS + marginS,
  );
}

/** A gate that ends before the first strong reflection; none where there is none, as there is nothing to shut out. */
export function autoGate(paths: Paths): Gate | undefined {
  const first = firstStrongReflection(paths);
  if (!first) return undefined;
  const afterS = first.delayS - marginS;
  const beforeS = Math.max(shortestBeforeS, beforeShare * afterS);
  return { beforeS: Math.min(beforeS, paths.arrivalS), afterS };
}
