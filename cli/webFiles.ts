import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { extname, join, relative, sep } from 'node:path';
import { gzipSync } from 'node:zlib';
import { InputError } from '../src/inputError.js';

export interface WebFile {
  readonly type: string;
  readonly bytes: Uint8Array;
  /** The same, packed; absent where that gains nothing. */
  readonly packed: () => Uint8Array | undefined;
  /** Changes with the content. */
  readonly tag: string;
}

const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
};

/**
 * The files of the app by their path, as the build left them. Nothing else is ever served: what is asked for is looked
 * up here and never joined to a path of the disk.
 *
 * @throws InputError where the app has not been built
 */
export function readWebFiles(folder: string): ReadonlyMap<string, WebFile> {
  if (!existsSync(join(folder, 'index.html'))) {
    throw new InputError(`${folder}: found no app there, expected the files of \`npm run build:web\``);
  }
  const paths = readdirSync(folder, { recursive: true, encoding: 'utf8' });
  const files = new Map<string, WebFile>();
  for (const path of paths) {
    const type = TYPES[extname(path)];
    if (!type) continue;
    const name = `/${relative(folder, join(folder, path)).split(sep).join('/')}`;
    files.set(name, webFile(readFileSync(join(folder, path)), type));
  }
  const index = files.get('/index.html');
  if (index) files.set('/', index);
  return files;
}

function webFile(bytes: Uint8Array, type: string): WebFile {
  let packed: Uint8Array | undefined;
  return {
    type,
    bytes,
    packed: () => {
      packed ??= gzipSync(bytes, { level: 5 });
      return packed.length < bytes.length ? packed : undefined;
    },
    tag: `"${createHash('sha256').update(bytes).digest('base64url').slice(0, 22)}"`,
  };
}
