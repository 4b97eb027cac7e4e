import { execFile } from 'node:child_process';
import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { afterAll, expect, test } from 'vitest';
import { workFolder } from './workFolder.js';

const root = fileURLToPath(new URL('../..', import.meta.url));
const work = workFolder({ 'package.json': '{ "name": "elsewhere", "private": true }' });
afterAll(work.remove);

const run = async (command: string, args: readonly string[], cwd: string) =>
  (await promisify(execFile)(command, [...args], { cwd, encoding: 'utf8', maxBuffer: 1e8 })).stdout;

function bytesIn(folder: string): number {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .reduce((sum, entry) => sum + statSync(join(entry.parentPath, entry.name)).size, 0);
}

const megabytes = (bytes: number) => `${(bytes / 1e6).toFixed(1)} MB`;

test('the package, packed and installed in an empty folder, helps and designs the demo (slow)', {
  timeout: 300_000,
}, async () => {
  // The build was made before these tests; packing must not make another beneath their feet.
  await run('npm', ['pack', '--ignore-scripts', '--pack-destination', work.folder], root);
  const archive = readdirSync(work.folder).find((name) => name.endsWith('.tgz'))!;
  await run('npm', ['install', '--prefer-offline', '--no-audit', '--no-fund', `./${archive}`], work.folder);
  const bin = work.path('node_modules', '.bin', 'nullwise');
  expect(await run(bin, ['--help'], work.folder)).toContain('fit');

  const installed = work.path('node_modules', 'nullwise');
  for (const name of [
    'README.md',
    'LICENSE',
    'fixtures/demo/setup.json',
    'dist/src/index.js',
    'dist/src/index.d.ts',
  ]) {
    expect(existsSync(join(installed, name)), name).toBe(true);
  }
  // dist/web is made by `npm run build`, which packing runs by itself when it is not told to run nothing.
  const packedWeb = existsSync(join(root, 'dist/web/index.html'));
  expect(existsSync(join(installed, 'dist/web/index.html'))).toBe(packedWeb);

  await run(bin, ['demo'], work.folder);
  const design = JSON.parse(readFileSync(work.path('result', 'demo', 'design.json'), 'utf8'));
  expect(design.filters.length).toBeGreaterThan(0);
  const code = `import { InputError, designSchema } from 'nullwise'; console.log(typeof InputError, typeof designSchema.parse);`;
  expect(await run(process.execPath, ['--input-type=module', '-e', code], work.folder)).toBe(
    'function function\n',
  );
  console.log(
    `package ${megabytes(statSync(work.path(archive)).size)}, installed ${megabytes(bytesIn(installed))}, ` +
      `with what it needs ${megabytes(bytesIn(work.path('node_modules')))}`,
  );
});
