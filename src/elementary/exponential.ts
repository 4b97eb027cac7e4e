import { LN2_HIGH, LN2_LOW } from './constants.js';
import { timesPowerOfTwo } from './parts.js';

// r·coth(r/2) = 2·Σ B₂ₙ·r²ⁿ/(2n)! with the Bernoulli numbers B₂ₙ (DLMF 24.2.1 and 4.19), of which seven terms after the
// first reach the last digit for |r| ≤ ½·ln 2; e^r = 1 + 2r/(r·coth(r/2) − r).
const C1 = 1 / 6;
const C2 = -1 / 360;
const C3 = 1 / 15_120;
const C4 = -1 / 604_800;
const C5 = 1 / 23_950_080;
const C6 = -691 / 653_837_184_000;
const C7 = 1 / 37_362_124_800;

const HALF_LN2 = 0.34657359027997264;
const GREATEST = 709.782712893384;
const LEAST = -745.1332191019411;

/** r − (r·coth(r/2) − 2), from which e^r = 1 + r + r·c/(2 − c). */
function bend(r: number): number {
  const z = r * r;
  const z2 = z * z;
  const low = C1 + z * C2 + z2 * (C3 + z * C4);
  const high = C5 + z * C6 + z2 * C7;
  return r - z * (low + z2 * z2 * high);
}

/** eˣ. */
export function exp(x: number): number {
  if (x > GREATEST) return Number.POSITIVE_INFINITY;
  if (x < LEAST) return 0;
  // No `Math.round`: its twin in fit/kernel/assembly has only this.
  const k = Math.floor(x * Math.LOG2E + 0.5);
  const high = x - k * LN2_HIGH;
  const low = k * LN2_LOW;
  const r = high - low;
  const c = bend(r);
  return timesPowerOfTwo(1 - (low - (r * c) / (2 - c) - high), k);
}

/** 2ˣ. */
export function pow2(x: number): number {
  if (x >= 1024) return Number.POSITIVE_INFINITY;
  if (x < -1075) return 0;
  const k = Math.max(-1074, Math.round(x));
  const r = (x - k) * Math.LN2;
  const c = bend(r);
  return timesPowerOfTwo(1 + (r + (r * c) / (2 - c)), k);
}

/** eˣ − 1, as near where x is small. */
export function expm1(x: number): number {
  if (Math.abs(x) > HALF_LN2) return exp(x) - 1;
  const c = bend(x);
  return x + (x * c) / (2 - c);
}

const GREAT = 700;

/** eˣ/2, which ends a little later than eˣ does. */
function halfOfGreat(x: number): number {
  const root = exp(x / 2);
  return 0.5 * root * root;
}

/** (eˣ − e⁻ˣ)/2. */
export function sinh(x: number): number {
  const a = Math.abs(x);
  const t = expm1(Math.min(a, GREAT));
  const value = a > GREAT ? halfOfGreat(a) : 0.5 * (t + t / (t + 1));
  return x < 0 ? -value : value;
}

/** (eˣ + e⁻ˣ)/2. */
export function cosh(x: number): number {
  const a = Math.abs(x);
  const t = exp(a);
  return a > GREAT ? halfOfGreat(a) : 0.5 * t + 0.5 / t;
}

/** sinh x/cosh x. */
export function tanh(x: number): number {
  const t = expm1(2 * Math.min(Math.abs(x), 22));
  const value = t / (t + 2);
  return x < 0 ? -value : value;
}
