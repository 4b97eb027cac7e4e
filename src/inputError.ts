/**
 * Bad input or options: the user can mend it. The command line prints the message and ends with exit code 2;
 * anything else thrown is an internal fault (exit code 1).
 *
 * The message says which file and line, what was found and what was expected.
 */
export class InputError extends Error {
  override readonly name = 'InputError';
}
