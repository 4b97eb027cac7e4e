import type { z } from 'zod';
import { pow2 } from '../elementary/exponential.js';
import { InputError } from '../inputError.js';
import { parseFrequencyHz } from '../units/parseFrequencyHz.js';
import { parseGainDb } from '../units/parseGainDb.js';
import { parseSlopeDb } from '../units/parseSlopeDb.js';
import { parseSmoothing } from '../units/parseSmoothing.js';
import { readNumber } from '../units/readNumber.js';
import { exactObject } from './exactObject.js';
import { found } from './found.js';
import { problemsMessage } from './problems.js';
import { quantity, within } from './quantity.js';

type Written = string | number;

/** What holds where an option is not given, as it would be written. */
export const designDefaults = {
  bassShelfFrequency: '120 Hz',
  bands: '8',
  maxBoost: '6 dB',
  maxCut: '12 dB',
  maxLevelLoss: '3 dB',
  qMin: '0.4',
  qMax: '10',
  sampleRate: '48 kHz',
  smoothing: '1/12',
  seed: '1',
} as const;

const LEAST_SPAN_OCTAVES = 1 / 3;

function ratio(text: Written, what: string): number {
  const value = readNumber(String(text).trim());
  if (value === undefined) throw new InputError(`${what}: ${found(text)}, expected a number such as 0.7`);
  return value;
}

function wholeNumber(min: number, max: number) {
  return (text: Written, what: string): number => {
    const value = /^\s*[+-]?\d+\s*$/.test(String(text)) ? Number(text) : Number.NaN;
    if (!(value >= min && value <= max)) {
      throw new InputError(`${what}: ${found(text)}, expected a whole number from ${min} to ${max}`);
    }
    return value;
  };
}

const gain = (min: number, max: number, description: string, example: string) =>
  quantity(within(parseGainDb, min, max, `${min} dB to ${max} dB`), description, [example]);
const frequency = (minHz: number, maxHz: number, limits: string, description: string, example: string) =>
  quantity(within(parseFrequencyHz, minHz, maxHz, limits), description, [example]);
const q = (description: string, example: string) =>
  quantity(within(ratio, 0.1, 50, 'a Q from 0.1 to 50'), description, [example]);

type Values = Readonly<Record<string, unknown>>;

/** Checks between fields run even when others have problems of their own, so that all are reported together. */
const always = { when: () => true };

const number = (values: unknown, key: string): number => (values as Values)[key] as number;

/**
 * Whether `rule` holds between two fields; what is missing or unreadable breaks no rule between fields.
 * The message names other fields as «field», since only the caller knows what the user calls them.
 */
function holds(keys: readonly [string, string], rule: (a: number, b: number) => boolean) {
  return (values: object): boolean => {
    const [a, b] = keys.map((key) => (values as Values)[key]);
    return typeof a !== 'number' || typeof b !== 'number' || rule(a, b);
  };
}

/**
 * The numbers that a user may give for a design, as they are written ("2.5 kHz", "-0.8 dB") or in Hz and dB.
 * Gives them in Hz, dB and octaves.
 */
export const designOptionsSchema = exactObject(
  {
    bassShelf: gain(-24, 24, 'the gain of a bass shelf in the target', '3 dB').exactOptional(),
    bassShelfFrequency: frequency(
      10,
      2000,
      '10 Hz to 2 kHz',
      'the frequency at which the bass shelf has half its gain',
      '120 Hz',
    ).prefault(designDefaults.bassShelfFrequency),
    tilt: quantity(
      within(parseSlopeDb, -12, 12, '-12 to 12 dB per octave'),
      'the rise of the target per octave',
      ['-0.8 dB'],
    ).exactOptional(),
    level: gain(-300, 300, "the level of the target on the measurement's own scale", '82 dB').exactOptional(),
    from: frequency(0.1, 384_000, '0.1 Hz to 384 kHz', 'the lower end of the range', '50 Hz').exactOptional(),
    to: frequency(0.1, 384_000, '0.1 Hz to 384 kHz', 'the upper end of the range', '16 kHz').exactOptional(),
    bands: quantity(wholeNumber(1, 40), 'how many filters may be used', [8]).prefault(designDefaults.bands),
    maxBoost: gain(0, 24, 'the most boost of each filter and of their sum', '6 dB').prefault(
      designDefaults.maxBoost,
    ),
    maxCut: gain(0, 60, 'the most cut of each filter, as a positive number', '12 dB').prefault(
      designDefaults.maxCut,
    ),
    maxLevelLoss: gain(0, 60, 'how far the mean of the EQ may fall below 0 dB', '3 dB').prefault(
      designDefaults.maxLevelLoss,
    ),
    qMin: q('the least Q of a filter', '0.4').prefault(designDefaults.qMin),
    qMax: q('the greatest Q of a filter', '10').prefault(designDefaults.qMax),
    shelfQMax: q('the greatest Q of a shelf, where that is less', '0.71').exactOptional(),
    sampleRate: frequency(
      8000,
      768_000,
      '8 kHz to 768 kHz',
      'the rate at which the filters will run',
      '48 kHz',
    ).prefault(designDefaults.sampleRate),
    smoothing: quantity(parseSmoothing, 'the width in octaves over which the curve is smoothed', [
      '1/12',
    ]).prefault(designDefaults.smoothing),
    repeatability: gain(0.001, 20, 'the RMS to which a measurement repeats', '0.3 dB').exactOptional(),
    seed: quantity(wholeNumber(0, 0xffff_ffff), 'a number that fixes the search', [1]).prefault(
      designDefaults.seed,
    ),
  },
  'options',
)
  .refine(
    holds(['from', 'to'], (from, to) => to >= from * pow2(LEAST_SPAN_OCTAVES) * (1 - 1e-9)),
    {
      ...always,
      path: ['to'],
      error: ({ input }) =>
        `found ${number(input, 'to')} Hz, expected at least a third of an octave above «from», ${number(input, 'from')} Hz`,
    },
  )
  .refine(
    holds(['qMin', 'qMax'], (qMin, qMax) => qMin <= qMax),
    {
      ...always,
      path: ['qMin'],
      error: ({ input }) =>
        `found ${number(input, 'qMin')}, expected at most «qMax», ${number(input, 'qMax')}`,
    },
  )
  .refine(
    holds(['qMin', 'shelfQMax'], (qMin, shelfQMax) => qMin <= shelfQMax),
    {
      ...always,
      path: ['shelfQMax'],
      error: ({ input }) =>
        `found ${number(input, 'shelfQMax')}, expected at least «qMin», ${number(input, 'qMin')}`,
    },
  )
  .refine(
    holds(['maxBoost', 'maxCut'], (maxBoost, maxCut) => maxBoost + maxCut > 0),
    {
      ...always,
      path: ['maxBoost'],
      error: 'found 0 dB, expected more than 0 dB for it or for «maxCut»',
    },
  );

export type DesignOptions = z.output<typeof designOptionsSchema>;

/**
 * Says what is wrong with numbers of a design each for itself, where others may yet come between them.
 *
 * @throws InputError with every problem; `source` and `nameOf` as for `readDesignOptions`
 */
export function checkDesignOptions(
  written: Readonly<Record<string, unknown>>,
  source: string,
  nameOf: (field: string) => string,
): void {
  const problems = Object.entries(designOptionsSchema.shape).flatMap(([field, schema]) => {
    const result = written[field] === undefined ? undefined : schema.safeParse(written[field]);
    return (result?.error?.issues ?? []).map(({ message }) => ({ what: nameOf(field), message }));
  });
  if (problems.length > 0) throw new InputError(problemsMessage(source, problems));
}

/**
 * Reads the numbers of a design from what a user wrote.
 *
 * @param written values by field name, as `designOptionsSchema` has them
 * @param source what the problems are problems of, for the message ("options")
 * @param nameOf how the user knows a field ("--max-boost" for maxBoost)
 * @throws InputError with every problem
 */
export function readDesignOptions(
  written: Readonly<Record<string, unknown>>,
  source: string,
  nameOf: (field: string) => string,
): DesignOptions {
  const result = designOptionsSchema.safeParse(written);
  if (result.success) return result.data;
  const problems = result.error.issues.map(({ path, message }) => ({
    what: path.map(String).map(nameOf).join('.'),
    message: message.replace(/«(\w+)»/g, (_, field: string) => nameOf(field)),
  }));
  throw new InputError(problemsMessage(source, problems));
}
