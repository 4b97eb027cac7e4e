import { storedDeviationDb, storedMaximumDb } from '../../device/stored/realResponse.js';
import { pow10 } from '../../elementary/power.js';
import { cookbookCoefficients } from '../../filter/cookbookCoefficients.js';
import type { Filter } from '../../filter/filter.js';
import type { FixedPointFormat } from '../../filter/fixedPoint.js';
import { fixedPointFit } from '../../filter/fixedPointFit.js';
import { inputGainDb, inputGainForDb } from '../../filter/inputGainDb.js';
import {
  type CoefficientName,
  type FeedbackSign,
  hexCoefficients,
  type RoundedCoefficients,
} from '../../filter/roundCoefficients.js';
import type { Correction } from '../../schema/correction.js';
import type { Warning } from '../../warning.js';

/** In which form coefficients are wanted. */
export interface CoefficientForm {
  readonly feedbackSign: FeedbackSign;
  readonly order: readonly CoefficientName[];
  /** Absent: floating point. */
  readonly fixedPoint?: FixedPointFormat;
}

/** One second-order section, its numbers in the wanted sign and order. */
export interface StoredSection {
  readonly filter: Filter;
  readonly values: readonly number[];
  /** Signed integers, and the same in hexadecimal; only in fixed point. */
  readonly words?: readonly number[];
  readonly hex?: readonly string[];
  /** Greatest difference from the filter; only in fixed point. */
  readonly maxErrorDb?: number;
  readonly poleRadius?: number;
}

/** All sections for one sample rate. */
export interface StoredSections {
  readonly sampleRateHz: number;
  readonly inputGainDb: number;
  readonly inputGainLinear: number;
  readonly sections: readonly StoredSection[];
  readonly warnings: readonly Warning[];
}

/**
 * The coefficients of a design at one sample rate; its own input gain where that is the design's rate, and less where
 * rounding to fixed point lifts the bank above it.
 */
export function storedSections(
  design: Correction,
  sampleRateHz: number,
  form: CoefficientForm,
): StoredSections {
  const { filters } = design;
  const exactGainDb =
    sampleRateHz === design.sampleRateHz ? design.inputGainDb : inputGainDb(filters, sampleRateHz);
  const { fixedPoint, feedbackSign, order } = form;
  const at = (gainDb: number) => ({ sampleRateHz, inputGainDb: gainDb, inputGainLinear: pow10(gainDb / 20) });
  if (!fixedPoint) {
    const sections = filters.map((filter) => {
      const exact = cookbookCoefficients(filter, sampleRateHz);
      return { filter, values: order.map((name) => signed(exact[name], name, feedbackSign)) };
    });
    return { ...at(exactGainDb), sections, warnings: [] };
  }
  const fits = filters.map((filter) => fixedPointFit(filter, sampleRateHz, fixedPoint, { feedbackSign }));
  const stored = filters.map((filter, i) => ({ filter, coefficients: fits[i]!.rounded.coefficients }));
  const peakDb = storedMaximumDb(filters, storedDeviationDb(stored, sampleRateHz), sampleRateHz);
  // Without a bound, as of a section that oscillates, no gain helps.
  const gainDb = Number.isFinite(peakDb) ? Math.min(exactGainDb, inputGainForDb(peakDb)) : exactGainDb;
  const sections = fits.map(({ rounded, maxErrorDb, poleRadius }, i) => ({
    filter: filters[i]!,
    ...inFixedPoint(rounded, fixedPoint, form),
    maxErrorDb,
    poleRadius,
  }));
  return { ...at(gainDb), sections, warnings: fits.flatMap(({ warnings }) => warnings) };
}

function inFixedPoint(
  rounded: RoundedCoefficients,
  format: FixedPointFormat,
  { order, feedbackSign }: CoefficientForm,
) {
  const hex = hexCoefficients(rounded, format);
  return {
    values: order.map((name) => signed(rounded.coefficients[name], name, feedbackSign)),
    words: order.map((name) => rounded.words[name]),
    hex: order.map((name) => hex[name]),
  };
}

function signed(value: number, name: CoefficientName, sign: FeedbackSign): number {
  return sign === 'added' && (name === 'a1' || name === 'a2') ? -value + 0 : value;
}

/** The equation that the coefficients belong to. */
export function differenceEquation(sign: FeedbackSign): string {
  const by = sign === 'added' ? '+' : '-';
  return `y[n] = b0*x[n] + b1*x[n-1] + b2*x[n-2] ${by} a1*y[n-1] ${by} a2*y[n-2]`;
}

/** "5.23" */
export function formatName({ integerBits, fractionBits }: FixedPointFormat): string {
  return `${integerBits}.${fractionBits}`;
}
