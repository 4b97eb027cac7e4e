import { exp } from '../elementary/exponential.js';
import { log } from '../elementary/logarithm.js';
import { pow10 } from '../elementary/power.js';
import { sin } from '../elementary/sine.js';
import { biquadResponse } from './biquadResponse.js';
import { DB_PER_NEPER_POWER } from './closedForm.js';
import { cookbookCoefficients } from './cookbookCoefficients.js';
import { featureFrequencies } from './featureFrequencies.js';
import type { BiquadCoefficients, Filter } from './filter.js';
import { filterResponseDb } from './filterResponseDb.js';
import { type FixedPointFormat, fixedPointRange } from './fixedPoint.js';
import { isStable } from './isStable.js';
import { resonancesOf } from './resonance.js';
import { type FeedbackSign, type RoundedCoefficients, roundCoefficients } from './roundCoefficients.js';

/**
 * The words near the exact coefficients whose response comes closest to the filter's (smallest greatest difference
 * in dB from `fromHz` to half the sample rate), instead of each coefficient rounded by itself.
 *
 * Why it helps: near 0 Hz the response is the quotient (b0 + b1 + b2)/(1 + a1 + a2) of two small sums, and rounding
 * by itself moves each by some steps. So for every feedback pair within two steps the feedforward words are sought
 * about b + H(0)·(a' − a), which keeps the quotient whatever the feedback words have become. Only stable words that
 * fit the format are taken; where there are none, or a coefficient lies outside the format, the coefficients come back
 * rounded one by one.
 */
export function roundForResponse(
  filter: Filter,
  sampleRateHz: number,
  format: FixedPointFormat,
  feedbackSign: FeedbackSign = 'subtracted',
  fromHz = 10,
): RoundedCoefficients {
  const exact = cookbookCoefficients(filter, sampleRateHz);
  const plain = roundCoefficients(exact, format, feedbackSign);
  const { lowest, highest, step } = fixedPointRange(format);
  const held = (x: number): boolean => x >= lowest * step && x <= highest * step;
  const sign = feedbackSign === 'added' ? -1 : 1;
  // A number that lies outside by more than rounding cannot be mended by its neighbours.
  const stored = [exact.b0, exact.b1, exact.b2, sign * exact.a1, sign * exact.a2];
  if (!stored.every((x) => held(x - Math.sign(x) * step))) return plain;

  const measure = misfit(filter, sampleRateHz, fromHz);
  let best = plain;
  let bestMisfit =
    isStable(plain.coefficients) && plain.overflow.length === 0
      ? Math.max(
          measure(plain.coefficients, Number.POSITIVE_INFINITY),
          ownMisfit(plain.coefficients, filter, sampleRateHz, fromHz),
        )
      : Number.POSITIVE_INFINITY;
  const nearest: FixedPointFormat = { ...format, rounding: 'nearest' };
  const gainAtZero = pow10(filterResponseDb(filter, sampleRateHz, Float64Array.of(0))[0]! / 20);
  const middle = roundCoefficients(exact, nearest, feedbackSign).coefficients;

  for (const da1 of FEEDBACK_STEPS) {
    for (const da2 of FEEDBACK_STEPS) {
      const a1 = middle.a1 + da1 * step;
      const a2 = middle.a2 + da2 * step;
      const moved = {
        b0: exact.b0,
        b1: exact.b1 + gainAtZero * (a1 - exact.a1),
        b2: exact.b2 + gainAtZero * (a2 - exact.a2),
        a1,
        a2,
      };
      if (!isStable(moved)) continue;
      const near = roundCoefficients(moved, nearest, feedbackSign).coefficients;
      for (const [d0, d1, d2] of FORWARD_STEPS) {
        const candidate: BiquadCoefficients = {
          b0: near.b0 + d0 * step,
          b1: near.b1 + d1 * step,
          b2: near.b2 + d2 * step,
          a1,
          a2,
        };
        const onGrid = measure(candidate, bestMisfit);
        if (onGrid >= bestMisfit) continue;
        const found = Math.max(onGrid, ownMisfit(candidate, filter, sampleRateHz, fromHz));
        if (found >= bestMisfit) continue;
        if (![candidate.b0, candidate.b1, candidate.b2, sign * a1, sign * a2].every(held)) continue;
        // On the grid already, so this only writes the words down.
        best = roundCoefficients(candidate, nearest, feedbackSign);
        bestMisfit = found;
      }
    }
  }
  return best;
}

/**
 * The greatest |ln power ratio| between coefficients and filter, given up (returning Infinity) as soon as it
 * reaches `limit`. Both polynomials are evaluated about the nearer end of the axis as in `biquadResponse`.
 */
function misfit(
  filter: Filter,
  sampleRateHz: number,
  fromHz: number,
): (c: BiquadCoefficients, limit: number) => number {
  const frequencyHz = featureFrequencies([filter], sampleRateHz, fromHz, sampleRateHz / 2);
  const n = frequencyHz.length;
  const meant = filterResponseDb(filter, sampleRateHz, frequencyHz).map((level) => pow10(level / 10));
  const sine = frequencyHz.map((f) => sin((Math.PI * f) / sampleRateHz));
  const cosine = frequencyHz.map((f) => sin((Math.PI * (sampleRateHz / 2 - f)) / sampleRateHz));
  const power = (x0: number, x1: number, x2: number, i: number): number => {
    const s = sine[i]!;
    const c = cosine[i]!;
    const real =
      s < c
        ? x0 + x1 / 2 + (x2 + x1 / 2) - 2 * (x0 + x2) * s * s
        : 2 * (x0 + x2) * c * c - (x0 - x1 / 2 + (x2 - x1 / 2));
    const imaginary = 2 * (x0 - x2) * s * c;
    return real * real + imaginary * imaginary;
  };
  return ({ b0, b1, b2, a1, a2 }, limit) => {
    const most = exp(limit);
    let worst = 1;
    for (let i = 0; i < n; i += 1) {
      const ratio = power(b0, b1, b2, i) / (power(1, a1, a2, i) * meant[i]!);
      const off = ratio < 1 ? 1 / ratio : ratio;
      if (!(off < most)) return Number.POSITIVE_INFINITY;
      if (off > worst) worst = off;
    }
    return log(worst);
  };
}

/**
 * The same where the candidate's own poles and zeros are felt most: few words make a resonance between the points that
 * are dense enough for the filter.
 */
function ownMisfit(
  candidate: BiquadCoefficients,
  filter: Filter,
  sampleRateHz: number,
  fromHz: number,
): number {
  const places = resonancesOf(candidate, sampleRateHz).map(({ hz }) => hz);
  const frequencyHz = Float64Array.from(places.filter((hz) => hz >= fromHz));
  const meantDb = filterResponseDb(filter, sampleRateHz, frequencyHz);
  const { levelDb } = biquadResponse(candidate, sampleRateHz, frequencyHz);
  return levelDb.reduce(
    (most, level, i) => Math.max(most, Math.abs(level - meantDb[i]!) / DB_PER_NEPER_POWER),
    0,
  );
}

const FEEDBACK_STEPS = [0, 1, -1, 2, -2];
const ONE_STEP = [0, 1, -1];
const FORWARD_STEPS = ONE_STEP.flatMap((d0) =>
  ONE_STEP.flatMap((d1) => ONE_STEP.map((d2) => [d0, d1, d2] as const)),
);
