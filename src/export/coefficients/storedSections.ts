import { pow10 } from '../../elementary/power.js';
import { cookbookCoefficients } from '../../filter/cookbookCoefficients.js';
import type { Filter } from '../../filter/filter.js';
import type { FixedPointFormat } from '../../filter/fixedPoint.js';
import { fixedPointFit } from '../../filter/fixedPointFit.js';
import { inputGainDb } from '../../filter/inputGainDb.js';
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

/** The coefficients of a design at one sample rate; its own input gain where that is the design's rate. */
export function storedSections(
  design: Correction,
  sampleRateHz: number,
  form: CoefficientForm,
): StoredSections {
  const gainDb =
    sampleRateHz === design.sampleRateHz ? design.inputGainDb : inputGainDb(design.filters, sampleRateHz);
  const warnings: Warning[] = [];
  const sections = design.filters.map((filter) => {
    if (!form.fixedPoint) {
      const exact = cookbookCoefficients(filter, sampleRateHz);
      return { filter, values: form.order.map((name) => signed(exact[name], name, form.feedbackSign)) };
    }
    const fit = fixedPointFit(filter, sampleRateHz, form.fixedPoint, { feedbackSign: form.feedbackSign });
    warnings.push(...fit.warnings);
    return {
      filter,
      ...inFixedPoint(fit.rounded, form.fixedPoint, form),
      maxErrorDb: fit.maxErrorDb,
      poleRadius: fit.poleRadius,
    };
  });
  return { sampleRateHz, inputGainDb: gainDb, inputGainLinear: pow10(gainDb / 20), sections, warnings };
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
