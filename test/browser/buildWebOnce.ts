import { existsSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'vite';

const root = fileURLToPath(new URL('../../', import.meta.url));
const SOURCES = ['web', 'src', 'cli', 'fixtures/demo', 'vite.config.ts', 'package.json'];

/** The tests of the app run what a user runs: dist/web/, both forms of it, built before them where it is out of date. */
export default async function buildWebOnce(): Promise<void> {
  const built = ['index.html', 'nullwise.html'].map((name) => join(root, 'dist/web', name));
  const oldest = Math.min(...built.map((path) => (existsSync(path) ? statSync(path).mtimeMs : 0)));
  if (SOURCES.every((path) => newest(join(root, path)) < oldest)) return;
  for (const mode of ['production', 'single']) await build({ mode, logLevel: 'warn' });
}

function newest(path: string): number {
  if (!statSync(path).isDirectory()) return statSync(path).mtimeMs;
  return Math.max(
    0,
    ...readdirSync(path, { recursive: true, encoding: 'utf8' }).map(
      (name) => statSync(join(path, name)).mtimeMs,
    ),
  );
}
