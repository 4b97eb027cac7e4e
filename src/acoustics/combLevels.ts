import { tanh } from '../elementary/exponential.js';
import { log10 } from '../elementary/logarithm.js';

/**
 * Level of the tops of a comb over the direct sound alone, in dB, for a reflection of relative pressure `rho`
 * (0 ≤ rho < 1) at the microphone: 20·log10(1 + ρ).
 */
export function combTopDb(rho: number): number {
  return 20 * log10(1 + rho);
}

/** Level of the bottoms of a comb over the direct sound alone, in dB (negative): 20·log10(1 − ρ). */
export function combBottomDb(rho: number): number {
  return 20 * log10(1 - rho);
}

/** How far the bottoms lie under the tops, in dB: 20·log10((1 + ρ)/(1 − ρ)). */
export function combDepthDb(rho: number): number {
  return combTopDb(rho) - combBottomDb(rho);
}

/** The relative reflection that makes bottoms lie `depthDb` under the tops; the inverse of `combDepthDb`. */
export function combRho(depthDb: number): number {
  return tanh((depthDb * Math.LN10) / 40);
}
