import { InputError } from '../../src/inputError.js';
import type { Reader } from './readers.js';

/** Nobody reads a longer one. */
const MAX_MESSAGE = 20_000;

/**
 * Lets a reader have these bytes.
 *
 * @returns what it did, and, in `fault`, what it should not have done: another exception than `InputError`, a message
 * that does not name the file, a number that is not finite
 */
export function judgeReading(
  { read, fileName }: Reader,
  bytes: Uint8Array,
): { readonly did: 'read' | 'refused'; readonly fault?: string } {
  let value: unknown;
  try {
    value = read(bytes, fileName);
  } catch (error) {
    if (!(error instanceof InputError))
      return { did: 'refused', fault: String((error as Error)?.stack ?? error) };
    const { message } = error;
    if (!message.includes(fileName))
      return { did: 'refused', fault: `a message without the file: ${message}` };
    if (message.length > MAX_MESSAGE)
      return { did: 'refused', fault: `a message of ${message.length} characters` };
    return { did: 'refused' };
  }
  const place = notFinite(value, 'result');
  return place === undefined ? { did: 'read' } : { did: 'read', fault: `${place} is not finite` };
}

/** Where in a value a number is not finite. */
function notFinite(value: unknown, place: string): string | undefined {
  if (typeof value === 'number') return Number.isFinite(value) ? undefined : place;
  if (value instanceof Float64Array) {
    const index = value.findIndex((each) => !Number.isFinite(each));
    return index < 0 ? undefined : `${place}[${index}]`;
  }
  if (typeof value !== 'object' || value === null) return undefined;
  for (const [key, each] of Object.entries(value)) {
    const found = notFinite(each, `${place}.${key}`);
    if (found !== undefined) return found;
  }
  return undefined;
}
