import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'vite';
import { isUpToDate } from '../cli/isUpToDate.js';

const root = fileURLToPath(new URL('../../', import.meta.url));
const inRoot = (path: string) => join(root, path);
const BUILT = ['dist/web/index.html', 'dist/web/nullwise.html'];
const SOURCES = [
  'web',
  'src',
  'cli',
  'fixtures/demo',
  'docs/make/licences',
  'vite.config.ts',
  'package.json',
];

/** The tests of the app run what a user runs: dist/web/, both forms of it, built before them where it is out of date. */
export default async function buildWebOnce(): Promise<void> {
  if (isUpToDate(BUILT.map(inRoot), SOURCES.map(inRoot))) return;
  for (const mode of ['production', 'single']) await build({ mode, logLevel: 'warn' });
}
