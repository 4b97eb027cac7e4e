import { z } from 'zod';
import type { DeviceBands, DeviceProfile, DeviceRange } from '../device/profile/deviceProfile.js';
import { valuesAround } from '../device/profile/deviceValues.js';
import { qConventionNames } from '../filter/qConventions.js';
import { coefficientNames } from '../filter/roundCoefficients.js';
import { exactObject } from './exactObject.js';
import { found } from './found.js';
import { readJson } from './readJson.js';

const MAX_BANDS = 40;
/** A step that gives more values than this is most likely a slip. */
const MAX_VALUES = 1e7;

const number = (min: number, max: number, expected: string) =>
  z
    .number({ error: ({ input }) => `${found(input)}, expected ${expected}` })
    .min(min, { error: ({ input }) => `${found(input)}, expected ${expected}` })
    .max(max, { error: ({ input }) => `${found(input)}, expected ${expected}` });

const wholeNumber = (min: number, max: number) => {
  const expected = `a whole number from ${min} to ${max}`;
  return number(min, max, expected).refine(Number.isInteger, {
    error: ({ input }) => `${found(input)}, expected ${expected}`,
  });
};

const listOf = <T extends z.ZodType>(item: T, expected: string) =>
  z
    .array(item, { error: ({ input }) => `${found(input)}, expected ${expected}` })
    .min(1, { error: `found an empty list, expected ${expected}` });

const choice = <const T extends readonly [string, ...string[]]>(names: T) =>
  z.enum(names, { error: ({ input }) => `${found(input)}, expected one of ${names.join(', ')}` });

/** A range of numbers with its grid; `min` and `max` may be left out where a list gives them. */
function deviceRange(what: string, least: number, most: number) {
  const value = number(least, most, `${what} from ${least} to ${most}`);
  return exactObject(
    {
      min: value.exactOptional(),
      max: value.exactOptional(),
      step: number(1e-6, most, 'a step above 0').exactOptional(),
      perOctave: number(1, 1000, 'values per octave, 1 to 1000').exactOptional(),
      values: listOf(value, `a list of ${what} values`).exactOptional(),
    },
    `a range of ${what}`,
  )
    .meta({
      description: `${what}: "step" counts from 0, "perOctave" from 1000 (1000·2^(k/n)), "values" is a list; none of them: any number`,
    })
    .transform((range, context): DeviceRange => {
      const refuse = (message: string) => {
        context.issues.push({ code: 'custom', message, input: range });
        return z.NEVER;
      };
      const grids = (['step', 'perOctave', 'values'] as const).filter((key) => range[key] !== undefined);
      if (grids.length > 1) return refuse(`found ${grids.join(' and ')}, expected at most one of them`);
      if (range.perOctave !== undefined && least <= 0)
        return refuse(`found perOctave, expected step or values for ${what}`);
      const values = range.values && [...new Set(range.values)].sort((a, b) => a - b);
      const min = range.min ?? values?.[0];
      const max = range.max ?? values?.at(-1);
      if (min === undefined || max === undefined) return refuse('found no min or no max, expected both');
      if (min > max) return refuse(`found min ${min} above max ${max}, expected it at or below`);
      if (range.step !== undefined && (max - min) / range.step > MAX_VALUES)
        return refuse(`found a step of ${range.step}, expected one that gives at most ${MAX_VALUES} values`);
      const result: DeviceRange = {
        min,
        max,
        ...(range.step !== undefined && { step: range.step }),
        ...(range.perOctave !== undefined && { perOctave: range.perOctave }),
        ...(values && { values }),
      };
      if (valuesAround(result, min).length === 0) return refuse('found no value between min and max');
      return result;
    });
}

const bands = exactObject(
  {
    types: listOf(choice(['peaking', 'lowShelf', 'highShelf']), 'a list of types such as ["peaking"]'),
    count: wholeNumber(1, MAX_BANDS).exactOptional(),
    atHz: listOf(number(1, 400_000, 'a frequency from 1 to 400000 Hz'), 'a list of frequencies in Hz')
      .meta({ description: 'for bands that cannot be moved: where each of them stands' })
      .exactOptional(),
  },
  'bands of one kind',
).transform((group, context): DeviceBands => {
  const count = group.count ?? group.atHz?.length;
  if (count === undefined || (group.atHz && count !== group.atHz.length)) {
    const message =
      count === undefined
        ? 'found neither count nor atHz, expected one of them'
        : `found count ${count} and ${group.atHz!.length} frequencies in atHz, expected as many`;
    context.issues.push({ code: 'custom', message, input: group });
    return z.NEVER;
  }
  const types = [...new Set(group.types)];
  if (group.atHz && types.length > 1) {
    const message = `found ${types.length} types beside atHz, expected one`;
    context.issues.push({ code: 'custom', message, input: group });
    return z.NEVER;
  }
  return { types, count, ...(group.atHz && { atHz: group.atHz }) };
});

const coefficients = exactObject(
  {
    format: choice(['float', 'fixed']),
    integerBits: wholeNumber(1, 50)
      .meta({ description: 'bits before the binary point, the sign among them' })
      .exactOptional(),
    fractionBits: wholeNumber(0, 49).exactOptional(),
    feedbackSign: choice(['subtracted', 'added'])
      .meta({ description: 'whether the device subtracts or adds a1·y[n-1] and a2·y[n-2]' })
      .exactOptional(),
    order: listOf(choice(coefficientNames as unknown as readonly ['b0', ...string[]]), 'all five names')
      .meta({ description: 'in which order the device wants the five numbers' })
      .exactOptional(),
  },
  'a coefficient format',
).transform((file, context): NonNullable<DeviceProfile['coefficients']> => {
  const refuse = (message: string) => {
    context.issues.push({ code: 'custom', message, input: file });
    return z.NEVER;
  };
  const { integerBits, fractionBits, feedbackSign = 'subtracted' } = file;
  const order = (file.order ?? coefficientNames) as (typeof coefficientNames)[number][];
  if (order.length !== 5 || new Set(order).size !== 5)
    return refuse(
      `found the order ${order.join(', ')}, expected each of ${coefficientNames.join(', ')} once`,
    );
  if (file.format === 'float') {
    return integerBits === undefined && fractionBits === undefined
      ? { feedbackSign, order }
      : refuse('found bits beside the format "float", expected them with "fixed" only');
  }
  if (integerBits === undefined || fractionBits === undefined)
    return refuse('found no integerBits or no fractionBits, expected both with "fixed"');
  if (integerBits + fractionBits > 50)
    return refuse(`found ${integerBits + fractionBits} bits in all, expected at most 50`);
  return { fixedPoint: { integerBits, fractionBits }, feedbackSign, order };
});

const delay = exactObject(
  {
    fixedMs: number(0, 10_000, 'milliseconds from 0 to 10000').exactOptional(),
    fixedSamples: number(0, 1e6, 'samples from 0 to 1000000').exactOptional(),
    perBandSamples: number(0, 1e5, 'samples from 0 to 100000')
      .meta({ description: 'for each band in use' })
      .exactOptional(),
  },
  'a delay such as { "fixedSamples": 32 }',
).meta({ description: 'how late the device lets its signal out; what is given adds up' });

/** Device file: what a DSP can hold. */
export const deviceSchema = exactObject(
  {
    name: z
      .string({ error: ({ input }) => `${found(input)}, expected a name such as "five-band-48k"` })
      .trim()
      .min(1, { error: 'found an empty name, expected one such as "five-band-48k"' }),
    sampleRatesHz: listOf(
      number(8000, 768_000, 'a sample rate from 8000 to 768000 Hz'),
      'a list of sample rates in Hz',
    ),
    bands: listOf(bands, 'a list of bands such as [{ "types": ["peaking"], "count": 5 }]'),
    gainDb: deviceRange('dB', -96, 48).refine(({ min, max }) => min <= 0 && max >= 0, {
      error: 'found a range without 0 dB, expected one that holds it',
    }),
    frequencyHz: deviceRange('Hz', 0.1, 400_000),
    q: deviceRange('Q', 0.001, 400_000).meta({
      description: 'Q, bandwidth or slope, on the scale of qConvention',
    }),
    qConvention: choice(qConventionNames).prefault('cookbook'),
    coefficients: coefficients.exactOptional(),
    headroomDb: number(0, 200, 'dB from 0 to 200')
      .meta({
        description: 'by how much the signal may exceed full scale between the bands; left out: no limit',
      })
      .exactOptional(),
    delay: delay.exactOptional(),
  },
  'a device',
)
  .transform((file, context): DeviceProfile => {
    const count = file.bands.reduce((sum, group) => sum + group.count, 0);
    if (count > MAX_BANDS) {
      context.issues.push({
        code: 'custom',
        path: ['bands'],
        message: `found ${count} bands in all, expected at most ${MAX_BANDS}`,
        input: file,
      });
      return z.NEVER;
    }
    const halfRateHz = Math.max(...file.sampleRatesHz) / 2;
    const tooHigh = file.bands.flatMap(({ atHz = [] }, group) =>
      atHz.flatMap((hz, k) => (hz < halfRateHz ? [] : [{ hz, path: ['bands', group, 'atHz', k] }])),
    );
    for (const { hz, path } of tooHigh) {
      context.issues.push({
        code: 'custom',
        path,
        message: `found ${hz} Hz, expected it below ${halfRateHz} Hz, half the highest sample rate of the device`,
        input: file,
      });
    }
    if (tooHigh.length > 0) return z.NEVER;
    const { coefficients: stored, ...rest } = file;
    return { ...rest, ...(stored && { coefficients: stored }) };
  })
  .meta({ title: 'Nullwise device file' });

/**
 * Reads a device file.
 *
 * @param expected as for `readJson`
 * @throws InputError with every problem, each with its line and path
 */
export function readDevice(text: string, fileName: string, expected?: string): DeviceProfile {
  return readJson(deviceSchema, text, fileName, expected);
}
