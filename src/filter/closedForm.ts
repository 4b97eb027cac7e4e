import { exp, expm1, sinh } from '../elementary/exponential.js';
import { log, log1p } from '../elementary/logarithm.js';
import { tan } from '../elementary/sine.js';
import type { Filter } from './filter.js';

/**
 * The squared magnitude of a cookbook filter as one quotient, exact because the bilinear transform only warps the
 * frequency axis. With Ω = tan(ω/2)/tan(ω0/2), p = tan(ω0/2)·cos²(ω/2) and r = sin²(ω/2)/tan(ω0/2), so that
 * Ω² = r/p and p·r = sin²(ω/2)·cos²(ω/2):
 *
 *     |H|² = N/D,  N = (n0 p − n1 r)² + n2 p r,  D = (d0 p − d1 r)² + d2 p r,
 *     N − D = e0 p² + e1 p r + e2 r²
 *
 * Written in p and r rather than Ω nothing is infinite at half the sample rate, and N − D (in which everything
 * that cancels has been cancelled by hand) keeps small gains and far skirts accurate to the last digits.
 *
 * Source: W3C Group Note "Audio EQ Cookbook", analogue prototypes of peakingEQ, lowShelf, highShelf at s = jΩ:
 * peaking (s² + s A/Q + 1)/(s² + s/(A Q) + 1); low shelf A (s² + √A/Q s + A)/(A s² + √A/Q s + 1);
 * high shelf the same with s → 1/s.
 */
export interface ClosedForm {
  readonly tanHalf: number;
  readonly n0: number;
  readonly n1: number;
  readonly n2: number;
  readonly d0: number;
  readonly d1: number;
  readonly d2: number;
  readonly e0: number;
  readonly e1: number;
  readonly e2: number;
}

/** A constant response is its gain; everything else has a closed form. */
export function closedForm(filter: Filter, sampleRateHz: number): ClosedForm | number {
  const constant = limitGainDb(filter, sampleRateHz);
  if (constant !== undefined) return constant;
  const tanHalf = tan((Math.PI * filter.frequencyHz) / sampleRateHz);
  const lnA = (filter.gainDb * Math.LN10) / 40;
  const A = exp(lnA);
  const k = 1 / (filter.q * filter.q);
  if (filter.type === 'peaking') {
    const e1 = 2 * k * sinh(2 * lnA); // (A² − A⁻²)/Q²
    return { tanHalf, n0: 1, n1: 1, n2: A * A * k, d0: 1, d1: 1, d2: k / (A * A), e0: 0, e1, e2: 0 };
  }
  const ends = expm1(4 * lnA); // A⁴ − 1
  const e1 = A * expm1(2 * lnA) * (k - 2);
  const n2 = A * A * A * k;
  const d2 = A * k;
  return filter.type === 'lowShelf'
    ? { tanHalf, n0: A * A, n1: A, n2, d0: 1, d1: A, d2, e0: ends, e1, e2: 0 }
    : { tanHalf, n0: A, n1: A * A, n2, d0: A, d1: 1, d2, e0: 0, e1, e2: ends };
}

/**
 * The response of a filter whose frequency lies at or beyond an end of the axis, which is the limit of the cookbook
 * filter as f0 goes there and the same at every frequency strictly inside; undefined for 0 < f0 < fs/2.
 *
 * f0 → 0: peaking and low shelf become the identity, a high shelf plain gain.
 * f0 → fs/2: peaking and high shelf become the identity, a low shelf plain gain.
 */
export function limitGainDb(filter: Filter, sampleRateHz: number): number | undefined {
  if (filter.frequencyHz <= 0) return filter.type === 'highShelf' ? filter.gainDb : 0;
  if (filter.frequencyHz >= sampleRateHz / 2) return filter.type === 'lowShelf' ? filter.gainDb : 0;
  return undefined;
}

/** 10·log10(N/D) without loss where N/D is near 1. */
export function quotientDb(form: ClosedForm, sinSquared: number, cosSquared: number): number {
  const p = form.tanHalf * cosSquared;
  const r = sinSquared / form.tanHalf;
  const pr = sinSquared * cosSquared;
  const d = (form.d0 * p - form.d1 * r) ** 2 + form.d2 * pr;
  const excess = (form.e0 * p * p + form.e1 * pr + form.e2 * r * r) / d;
  if (Math.abs(excess) < 0.5) return DB_PER_NEPER_POWER * log1p(excess);
  return DB_PER_NEPER_POWER * log(((form.n0 * p - form.n1 * r) ** 2 + form.n2 * pr) / d);
}

/** N/D itself: for scanning many frequencies where no logarithm is needed. */
export function quotient(form: ClosedForm, sinSquared: number, cosSquared: number): number {
  const p = form.tanHalf * cosSquared;
  const r = sinSquared / form.tanHalf;
  const pr = sinSquared * cosSquared;
  return (
    ((form.n0 * p - form.n1 * r) ** 2 + form.n2 * pr) / ((form.d0 * p - form.d1 * r) ** 2 + form.d2 * pr)
  );
}

/** 10/ln 10: decibels in a unit step of the natural logarithm of power. */
export const DB_PER_NEPER_POWER = 10 / Math.LN10;
