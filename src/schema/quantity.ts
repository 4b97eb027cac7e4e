import { z } from 'zod';
import { InputError } from '../inputError.js';
import { found } from './found.js';

type Written = string | number;
type Parse<T> = (text: Written, what: string) => T;

/**
 * A field that holds a quantity as a person writes it; `parse` turns it into SI units and its refusal becomes
 * the field's problem.
 */
export function quantity<T>(parse: Parse<T>, description: string, examples: Written[]) {
  const expected = `expected ${description} such as ${examples.map((example) => JSON.stringify(example)).join(' or ')}`;
  return z
    .union([z.string(), z.number()], { error: ({ input }) => `${found(input)}, ${expected}` })
    .meta({ description, examples })
    .transform((text, context): T => {
      try {
        return parse(text, '');
      } catch (error) {
        if (!(error instanceof InputError)) throw error;
        context.issues.push({ code: 'custom', message: error.message.replace(/^:? /, ''), input: text });
        return z.NEVER;
      }
    });
}

/** `parse` with bounds; `expected` says them in words ("from 0 to 24 dB"). */
export function within(parse: Parse<number>, min: number, max: number, expected: string): Parse<number> {
  return (text, what) => {
    const value = parse(text, what);
    if (!(value >= min && value <= max)) {
      throw new InputError(`${what}: ${found(text)}, expected ${expected}`);
    }
    return value;
  };
}
