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

const MAX_SHOWN = 20;
const MAX_KEY = 60;
const quotedKey = (key: string) => (key.length > MAX_KEY ? `${key.slice(0, MAX_KEY - 1)}…` : key);

function unknownKeys(written: readonly string[], known: readonly string[]): string {
  const shown = written.slice(0, MAX_SHOWN);
  const each = shown.map((key) => {
    const nearest = nearestWord(key, known);
    return JSON.stringify(quotedKey(key)) + (nearest ? ` (did you mean ${JSON.stringify(nearest)}?)` : '');
  });
  if (written.length > MAX_SHOWN) each.push(`and ${written.length - MAX_SHOWN} more`);
  return `unknown ${each.length > 1 ? 'keys' : 'key'} ${each.join(', ')}; known are ${known.join(', ')}`;
}
