import { readFileSync, type Stats, statSync } from 'node:fs';
import { InputError } from '../../src/inputError.js';

/** More than a measurement of two million rows ever takes. */
const MAX_BYTES = 512 * 1024 * 1024;

const REASONS: Readonly<Record<string, string>> = {
  ENOENT: 'found no such file',
  ENOTDIR: 'found no such file (a part of the path is a file, not a folder)',
  EACCES: 'found a file that this user may not read',
  EPERM: 'found a file that this user may not read',
  ELOOP: 'found a loop of symbolic links',
  ENAMETOOLONG: 'found a name that is too long',
};

/**
 * Reads a whole regular file.
 *
 * @param expected what the file should be, for the message ("a measurement: …")
 * @throws InputError where it is missing, a folder, a pipe or a device, unreadable or far too large
 */
export function readInputBytes(path: string, expected: string): Uint8Array {
  const refuse = (found: string): never => {
    throw new InputError(`${path === '' ? '""' : path}: ${found}, expected ${expected}`);
  };
  try {
    const stats = statSync(path);
    if (!stats.isFile()) refuse(`found ${kindOf(stats)}`);
    if (stats.size > MAX_BYTES)
      refuse(`found ${Math.round(stats.size / 1024 / 1024)} MB, more than any such file has`);
    return readFileSync(path);
  } catch (error) {
    if (error instanceof InputError) throw error;
    const { code = '', message } = error as NodeJS.ErrnoException;
    return refuse(REASONS[code] ?? `it cannot be read (${message})`);
  }
}

/** Reads a whole UTF-8 text file; see `readInputBytes`. */
export function readInputText(path: string, expected: string): string {
  const bytes = readInputBytes(path, expected);
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    throw new InputError(`${path}: found bytes that are no UTF-8 text, expected ${expected}`);
  }
}

function kindOf(stats: Stats): string {
  if (stats.isDirectory()) return 'a folder';
  if (stats.isFIFO()) return 'a named pipe';
  if (stats.isSocket()) return 'a socket';
  return 'a device';
}
