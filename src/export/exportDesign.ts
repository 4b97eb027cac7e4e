import type { QConventionName } from '../filter/qConventions.js';
import { coefficientNames, type FeedbackSign } from '../filter/roundCoefficients.js';
import { InputError } from '../inputError.js';
import { writeWav } from '../measurement/wavWriter.js';
import type { Correction } from '../schema/correction.js';
import type { ExportOptions } from '../schema/exportOptions.js';
import { formatFrequency } from '../units/formatFrequency.js';
import { type FirPhase, firOfDesign } from './audio/firOfDesign.js';
import {
  coefficientsAsC,
  coefficientsAsCsv,
  coefficientsAsHex,
  coefficientsAsJson,
} from './coefficients/coefficientText.js';
import { type CoefficientForm, formatName, storedSections } from './coefficients/storedSections.js';
import {
  filterListing,
  listingAsCsv,
  listingAsJson,
  listingAsMarkdown,
  listingAsTable,
} from './tables/filterListing.js';

const LISTINGS = {
  table: listingAsTable,
  markdown: listingAsMarkdown,
  csv: listingAsCsv,
  json: listingAsJson,
} as const;

const COEFFICIENTS = {
  'coefficients-json': coefficientsAsJson,
  'coefficients-csv': (
    _: Correction,
    form: CoefficientForm,
    rates: Parameters<typeof coefficientsAsCsv>[1],
  ) => coefficientsAsCsv(form, rates),
  'c-header': coefficientsAsC,
  hex: coefficientsAsHex,
} as const;

const FIR: Readonly<Record<string, FirPhase>> = {
  'fir-minimum-phase': 'minimum',
  'fir-linear-phase': 'linear',
};

const names = <T extends object>(of: T) => Object.keys(of) as (keyof T & string)[];

/** The names that `format` of an export may have. */
export const exportFormats: readonly string[] = [...names(LISTINGS), ...names(COEFFICIENTS), ...names(FIR)];

export const DEFAULT_TAPS = 16384;

/** What to write, and how; what is not given is taken from the device of the design, or is the usual. */
export interface ExportRequest extends ExportOptions {
  readonly format: string;
  readonly qConvention?: QConventionName;
  readonly feedbackSign?: FeedbackSign;
}

/** One file; several where each sample rate needs one of its own, told apart by `suffix`. */
export interface ExportedFile {
  readonly suffix: string;
  readonly content: string | Uint8Array;
}

/** The files of an export. */
export interface Exported {
  readonly files: readonly ExportedFile[];
  /** What the user should know of the result, one sentence or two each. */
  readonly notes: readonly string[];
}

/** Warnings of words that stand for no filter at all, or howl. */
const UNUSABLE = ['coefficient-overflow', 'rounded-filter-unstable'];

/** Which options mean something for which formats. */
const APPLIES: Readonly<Record<string, readonly (readonly string[])[]>> = {
  qConvention: [names(LISTINGS)],
  sampleRate: [names(COEFFICIENTS), names(FIR)],
  feedbackSign: [names(COEFFICIENTS)],
  order: [names(COEFFICIENTS)],
  fixedPoint: [names(COEFFICIENTS)],
  taps: [names(FIR)],
};

/**
 * A design in a form to be entered, compiled or loaded elsewhere.
 *
 * @param nameOf how the user knows an option, for messages
 * @throws InputError where the request does not fit the design or the format
 */
export function exportDesign(
  design: Correction,
  request: ExportRequest,
  nameOf: (field: string) => string,
): Exported {
  checkApplies(request, nameOf);
  const { format } = request;
  const sampleRatesHz = [...new Set(request.sampleRate ?? [design.sampleRateHz])];
  checkRates(design, sampleRatesHz, nameOf);
  if (isOneOf(format, LISTINGS)) {
    const content = LISTINGS[format](filterListing(design, request.qConvention));
    return { files: [{ suffix: '', content }], notes: [] };
  }
  if (isOneOf(format, COEFFICIENTS)) return coefficients(design, format, sampleRatesHz, request, nameOf);
  return finiteFilters(design, FIR[format]!, sampleRatesHz, request.taps ?? DEFAULT_TAPS);
}

function coefficients(
  design: Correction,
  format: keyof typeof COEFFICIENTS,
  sampleRatesHz: readonly number[],
  request: ExportRequest,
  nameOf: (field: string) => string,
): Exported {
  const own = design.device?.coefficients;
  const fixedPoint = request.fixedPoint ?? own?.fixedPoint;
  if (format === 'hex' && !fixedPoint) {
    throw new InputError(
      `${nameOf('fixedPoint')}: found nothing, expected a number format such as 5.23 (the design is for no equalizer that has one)`,
    );
  }
  const form: CoefficientForm = {
    feedbackSign: request.feedbackSign ?? own?.feedbackSign ?? 'subtracted',
    order: request.order ?? own?.order ?? coefficientNames,
    ...(fixedPoint && { fixedPoint }),
  };
  const rates = sampleRatesHz.map((hz) => storedSections(design, hz, form));
  const unusable = rates.flatMap(({ warnings }) => warnings).filter(({ code }) => UNUSABLE.includes(code));
  if (fixedPoint && unusable.length > 0) {
    throw new InputError(
      `${nameOf('fixedPoint')}: found ${formatName(fixedPoint)}, expected a number format that holds every filter. ` +
        unusable.map(({ message }) => message).join(' '),
    );
  }
  return {
    files: [{ suffix: '', content: COEFFICIENTS[format](design, form, rates) }],
    notes: rates.flatMap(({ warnings }) => warnings.map(({ message }) => message)),
  };
}

function finiteFilters(
  design: Correction,
  phase: FirPhase,
  sampleRatesHz: readonly number[],
  taps: number,
): Exported {
  const made = sampleRatesHz.map((hz) => firOfDesign(design, phase, hz, taps));
  return {
    files: made.map(({ taps: samples, sampleRateHz }) => ({
      suffix: sampleRatesHz.length > 1 ? `-${sampleRateHz}` : '',
      content: writeWav({ channels: [samples], sampleRateHz, format: 'float32' }).bytes,
    })),
    notes: made.map(
      ({ error, sampleRateHz, delaySamples }) =>
        `${phase === 'linear' ? 'Linear' : 'Minimum'}-phase filter of ${taps} taps at ${sampleRateHz} Hz, ` +
        `input gain included: off by ${error.rmsDb.toFixed(4)} dB RMS, at most ${error.maxDb.toFixed(4)} dB at ` +
        `${formatFrequency(error.maxAtHz)} (${formatFrequency(error.fromHz)} to ${formatFrequency(error.toHz)}); ` +
        `it delays by ${delaySamples} samples${delaySamples > 0 ? ` (${((1000 * delaySamples) / sampleRateHz).toPrecision(3)} ms)` : ''}. It has no Q; it stands for filters whose Q is the cookbook's.`,
    ),
  };
}

function isOneOf<T extends object>(format: string, of: T): format is keyof T & string {
  return Object.hasOwn(of, format);
}

function checkApplies(request: ExportRequest, nameOf: (field: string) => string): void {
  for (const [field, groups] of Object.entries(APPLIES)) {
    const formats = groups.flat();
    if (request[field as keyof ExportRequest] === undefined || formats.includes(request.format)) continue;
    throw new InputError(
      `${nameOf(field)}: found it beside the format ${request.format}, expected it with ${formats.join(', ')} only`,
    );
  }
}

function checkRates(
  { device, filters }: Correction,
  rates: readonly number[],
  nameOf: (field: string) => string,
): void {
  const top = Math.max(0, ...filters.map(({ frequencyHz }) => frequencyHz));
  for (const hz of rates) {
    if (device && !device.sampleRatesHz.includes(hz)) {
      throw new InputError(
        `${nameOf('sampleRate')}: found ${hz} Hz, expected one that the device "${device.name}" has: ${device.sampleRatesHz.join(', ')} Hz`,
      );
    }
    if (top >= hz / 2) {
      throw new InputError(
        `${nameOf('sampleRate')}: found ${hz} Hz, expected more than twice the highest filter's ${top} Hz`,
      );
    }
  }
}
