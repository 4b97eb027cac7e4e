import { spawnSync } from 'node:child_process';
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { isUpToDate } from './isUpToDate.js';

const root = fileURLToPath(new URL('../../', import.meta.url));
const inRoot = (path: string) => join(root, path);
const SOURCES = ['src', 'cli', 'fixtures/simulate'];
/** To WebAssembly, by `npm run kernel`. */
const COMPILED_OTHERWISE = /\bassembly[\\/]/;
const SETTINGS = ['tsconfig.json', 'tsconfig.build.json', 'package.json'];

/** The tests of the command line run what a user runs: dist/, built before them where it is out of date. */
export default function buildOnce(): void {
  if (isUpToDate(outputs(), [...SOURCES, ...SETTINGS].map(inRoot))) return;
  const compiler = inRoot('node_modules/typescript/bin/tsc');
  const { status, stdout, stderr } = spawnSync(process.execPath, [compiler, '-p', 'tsconfig.build.json'], {
    cwd: root,
    encoding: 'utf8',
  });
  if (status !== 0) throw new Error(`the build failed:\n${stdout}${stderr}`);
}

const outputs = (): string[] =>
  SOURCES.flatMap((folder) =>
    readdirSync(inRoot(folder), { recursive: true, encoding: 'utf8' })
      .filter((name) => /\.tsx?$/.test(name) && !name.endsWith('.d.ts') && !COMPILED_OTHERWISE.test(name))
      .map((name) => join(root, 'dist', folder, name.replace(/\.tsx?$/, '.js'))),
  );
