import { InputError } from '../inputError.js';

/**
 * The text of a file.
 *
 * @param expected what the file should be, for the message
 * @throws InputError where its bytes are no UTF-8
 */
export function utf8Text(bytes: Uint8Array, fileName: string, expected: string): string {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    throw new InputError(`${fileName}: found bytes that are no UTF-8 text, expected ${expected}`);
  }
}
