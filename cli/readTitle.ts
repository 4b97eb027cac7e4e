import { InputError } from '../src/inputError.js';

/**
 * What the user calls it.
 *
 * @throws InputError for one without a letter, which would leave every output without a name
 */
export function readTitle(written: string): string {
  if (written.trim() !== '') return written;
  throw new InputError(
    '--title: found an empty text, expected a name; without --title one is made from the file names',
  );
}
