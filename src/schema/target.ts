import { z } from 'zod';
import type { Curve } from '../curve/curve.js';
import { parseFrequencyHz } from '../units/parseFrequencyHz.js';
import { parseGainDb } from '../units/parseGainDb.js';
import { exactObject } from './exactObject.js';
import { found } from './found.js';
import { quantity, within } from './quantity.js';
import { readJson } from './readJson.js';

const breakpoint = exactObject(
  {
    frequency: quantity(within(parseFrequencyHz, 0.1, 400_000, '0.1 Hz to 400 kHz'), 'a frequency', [
      '100 Hz',
      '2.5 kHz',
    ]),
    level: quantity(within(parseGainDb, -200, 200, '-200 dB to 200 dB'), 'a level', ['2 dB', -1.5]),
  },
  'a breakpoint',
);

/** Target file: the curve that the measurement is to be brought to, by its breakpoints in any order. */
export const targetSchema = exactObject(
  {
    breakpoints: z
      .array(breakpoint, { error: ({ input }) => `${found(input)}, expected a list of breakpoints […]` })
      .min(2, { error: ({ input }) => `${found(input)}, expected at least two breakpoints` })
      .meta({ description: 'levels between breakpoints are interpolated, beyond the ends they stay' }),
  },
  'a target',
)
  .superRefine(({ breakpoints }, context) => {
    const seen = new Map<number, number>();
    breakpoints.forEach(({ frequency }, index) => {
      const first = seen.get(frequency);
      seen.set(frequency, index);
      if (first === undefined) return;
      context.addIssue({
        code: 'custom',
        path: ['breakpoints', index, 'frequency'],
        message: `found ${frequency} Hz, which breakpoints[${first}] has already; expected each frequency once`,
      });
    });
  })
  .transform(({ breakpoints }): Curve => {
    const ascending = [...breakpoints].sort((a, b) => a.frequency - b.frequency);
    return {
      frequencyHz: Float64Array.from(ascending, ({ frequency }) => frequency),
      levelDb: Float64Array.from(ascending, ({ level }) => level),
    };
  })
  .meta({ title: 'Nullwise target file' });

/**
 * Reads a target file in JSON.
 *
 * @param expected as for `readJson`
 * @throws InputError with every problem, each with its line and path
 */
export function readTarget(text: string, fileName: string, expected?: string): Curve {
  return readJson(targetSchema, text, fileName, expected);
}
