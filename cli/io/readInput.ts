import { accessSync, constants, readFileSync, type Stats, statSync } from 'node:fs';
import { InputError } from '../../src/inputError.js';
import { utf8Text } from '../../src/schema/utf8Text.js';

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
  return refusing(path, expected, (refuse) => {
    const { size } = regularFile(path, refuse);
    if (size > MAX_BYTES) refuse(`found ${Math.round(size / 1024 / 1024)} MB, more than any such file has`);
    return readFileSync(path);
  });
}

/** Refuses as `readInputBytes` does, but for the size, before a file is read bit by bit. */
export function checkInputFile(path: string, expected: string): void {
  refusing(path, expected, (refuse) => {
    regularFile(path, refuse);
    accessSync(path, constants.R_OK);
  });
}

type Refuse = (found: string) => never;

function refusing<T>(path: string, expected: string, work: (refuse: Refuse) => T): T {
  const refuse: Refuse = (found) => {
    throw new InputError(`${path === '' ? '""' : path}: ${found}, expected ${expected}`);
  };
  try {
    return work(refuse);
  } catch (error) {
    if (error instanceof InputError) throw error;
    const { code = '', message } = error as NodeJS.ErrnoException;
    return refuse(REASONS[code] ?? `it cannot be read (${message})`);
  }
}

function regularFile(path: string, refuse: Refuse): Stats {
  const stats = statSync(path);
  return stats.isFile() ? stats : refuse(`found ${kindOf(stats)}`);
}

/** Reads a whole UTF-8 text file; see `readInputBytes`. */
export function readInputText(path: string, expected: string): string {
  return utf8Text(readInputBytes(path, expected), path, expected);
}

/** In words what stands in place of a regular file. */
export function kindOf(stats: Stats): string {
  if (stats.isDirectory()) return 'a folder';
  if (stats.isFIFO()) return 'a named pipe';
  if (stats.isSocket()) return 'a socket';
  return 'a device';
}
