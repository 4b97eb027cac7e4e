import { log2 } from '../elementary/logarithm.js';
import type { Warning } from '../warning.js';
import { coefficientError } from './coefficientError.js';
import { cookbookCoefficients } from './cookbookCoefficients.js';
import { biquadFromDelta, roundedDeltaForm } from './deltaForm.js';
import type { Filter } from './filter.js';
import { type FixedPointFormat, fixedPointRange } from './fixedPoint.js';
import { isStable } from './isStable.js';
import { poleRadius } from './poleRadius.js';
import { coefficientNames, type FeedbackSign, type RoundedCoefficients } from './roundCoefficients.js';
import { roundForResponse } from './roundForResponse.js';

export interface FixedPointFitOptions {
  /** `subtracted` unless given. */
  readonly feedbackSign?: FeedbackSign;
  /** Differences above this are warned of; 0.1 dB unless given. */
  readonly limitDb?: number;
  /** Lower end of the span on which the response is compared; 10 Hz unless given. */
  readonly fromHz?: number;
}

/** A filter as a fixed-point format holds it. */
export interface FixedPointFit {
  readonly rounded: RoundedCoefficients;
  readonly maxErrorDb: number;
  readonly atHz: number;
  /** Both poles strictly inside the unit circle; exact, for sums of words are exact in double precision. */
  readonly stable: boolean;
  readonly poleRadius: number;
  readonly warnings: readonly Warning[];
}

/**
 * Rounds a cookbook filter to a number format (`roundForResponse`), holds the response of the rounded coefficients
 * against the exact one, and says what is wrong and what would mend it where the format cannot hold the filter.
 */
export function fixedPointFit(
  filter: Filter,
  sampleRateHz: number,
  format: FixedPointFormat,
  options: FixedPointFitOptions = {},
): FixedPointFit {
  const { feedbackSign = 'subtracted', limitDb = 0.1, fromHz = 10 } = options;
  const rounded = roundForResponse(filter, sampleRateHz, format, feedbackSign, fromHz);
  const error = coefficientError(rounded.coefficients, filter, sampleRateHz, fromHz);
  const stable = isStable(rounded.coefficients);
  const context: Context = { filter, sampleRateHz, format, feedbackSign, limitDb, fromHz };
  const warnings: Warning[] = [];
  if (rounded.overflow.length > 0) warnings.push(overflowWarning(context, rounded));
  else if (!stable || !(error.maxErrorDb <= limitDb)) {
    warnings.push(precisionWarning(context, stable, error.maxErrorDb, error.atHz));
  }
  return { rounded, ...error, stable, poleRadius: poleRadius(rounded.coefficients), warnings };
}

interface Context extends Required<FixedPointFitOptions> {
  readonly filter: Filter;
  readonly sampleRateHz: number;
  readonly format: FixedPointFormat;
}

function overflowWarning({ filter, sampleRateHz, format }: Context, rounded: RoundedCoefficients): Warning {
  const exact = cookbookCoefficients(filter, sampleRateHz);
  const { lowest, highest, step } = fixedPointRange(format);
  const found = rounded.overflow.map((name) => `${name} = ${exact[name].toFixed(4)}`).join(', ');
  const largest = Math.max(...coefficientNames.map((name) => Math.abs(exact[name])));
  const bits = 1 + Math.floor(log2(largest) + 1);
  // At low frequencies a1 nears -2 whatever the gain: not every format is helped by less of it.
  const half = cookbookCoefficients({ ...filter, gainDb: filter.gainDb / 2 }, sampleRateHz);
  const helps = coefficientNames.every((name) => Math.abs(half[name]) <= highest * step);
  return {
    code: 'coefficient-overflow',
    message:
      `${describe(filter)} does not fit the format ${name(format)}, which holds ${lowest * step} to ` +
      `${Number((highest * step).toPrecision(8))}: ${found}. Use at least ${Math.max(bits, format.integerBits + 1)} integer bits` +
      `${helps ? ', or share its gain between two filters' : ''}.`,
    frequencyHz: filter.frequencyHz,
  };
}

function precisionWarning(context: Context, stable: boolean, maxErrorDb: number, atHz: number): Warning {
  const { filter, sampleRateHz, format } = context;
  const trouble = stable
    ? `is off by up to ${maxErrorDb.toFixed(2)} dB (at ${hertz(atHz)}) when rounded to ${name(format)}`
    : `is not stable when rounded to ${name(format)}`;
  const ways: string[] = [];
  const bits = enoughFractionBits(context);
  if (bits !== undefined) ways.push(`${bits} fraction bits instead of ${format.fractionBits}`);
  const delta = deltaAdvice(context);
  if (delta !== undefined) ways.push(delta);
  if (sampleRateHz > 48_000) ways.push('a lower sample rate for this filter');
  return {
    code: stable ? 'coefficients-too-coarse' : 'rounded-filter-unstable',
    message: `${describe(filter)} at ${hertz(sampleRateHz)} ${trouble}. What helps: ${ways.join('; ') || 'another structure or a longer word'}.`,
    frequencyHz: filter.frequencyHz,
  };
}

/** The fewest fraction bits at which the rounded filter keeps the limit. */
function enoughFractionBits(context: Context): number | undefined {
  const { filter, sampleRateHz, format, feedbackSign, limitDb, fromHz } = context;
  for (
    let fractionBits = format.fractionBits + 1;
    fractionBits + format.integerBits <= 50;
    fractionBits += 1
  ) {
    const { coefficients } = roundForResponse(
      filter,
      sampleRateHz,
      { ...format, fractionBits },
      feedbackSign,
      fromHz,
    );
    const { maxErrorDb } = coefficientError(coefficients, filter, sampleRateHz, fromHz);
    if (isStable(coefficients) && maxErrorDb <= limitDb) return fractionBits;
  }
  return undefined;
}

function deltaAdvice({ filter, sampleRateHz, format, limitDb, fromHz }: Context): string | undefined {
  const delta = roundedDeltaForm(cookbookCoefficients(filter, sampleRateHz), format);
  if (delta === undefined) return undefined;
  const coefficients = biquadFromDelta(delta);
  const { maxErrorDb } = coefficientError(coefficients, filter, sampleRateHz, fromHz);
  if (!isStable(coefficients) || !(maxErrorDb <= limitDb)) return undefined;
  return `the delta-operator form with a shift of ${delta.shift} bits, which keeps within ${Math.max(maxErrorDb, 0.0001).toFixed(4)} dB in the same words`;
}

const TYPE_WORDS = { peaking: 'peaking filter', lowShelf: 'low shelf', highShelf: 'high shelf' } as const;

const describe = ({ type, frequencyHz, gainDb, q }: Filter): string =>
  `The ${TYPE_WORDS[type]} at ${hertz(frequencyHz)} (${gainDb.toFixed(1)} dB, Q ${q.toFixed(2)})`;

const hertz = (f: number): string => `${Number(f.toPrecision(4))} Hz`;

const name = ({ integerBits, fractionBits }: FixedPointFormat): string => `${integerBits}.${fractionBits}`;
