import { z } from 'zod';
import { found } from './found.js';
import { nearestWord } from './nearestWord.js';

/**
 * An object with these keys and no others: an unknown key is refused, since it is most likely one that was
 * misspelt and would be ignored in silence.
 *
 * @param what the object in words, for the message ("a set-up")
 */
export function exactObject<S extends z.ZodRawShape>(shape: S, what: string) {
  const keys = Object.keys(shape);
  return z.strictObject(shape, {
    error: (issue) =>
      issue.code === 'unrecognized_keys'
        ? unknownKeys(issue.keys as string[], keys)
        : `${found(issue.input)}, expected ${what}, an object with ${keys.join(', ')}`,
  });
}

function unknownKeys(written: readonly string[], known: readonly string[]): string {
  const each = written.map((key) => {
    const nearest = nearestWord(key, known);
    return JSON.stringify(key) + (nearest ? ` (did you mean ${JSON.stringify(nearest)}?)` : '');
  });
  return `unknown ${each.length > 1 ? 'keys' : 'key'} ${each.join(', ')}; known are ${known.join(', ')}`;
}
