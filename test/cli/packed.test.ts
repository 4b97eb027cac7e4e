import { execFile, spawn } from 'node:child_process';
import { once } from 'node:events';
import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { afterAll, expect, test } from 'vitest';
import buildWebOnce from '../browser/buildWebOnce.js';
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
  // The program was built before these tests, and packing must not do so again beneath their feet.
  await buildWebOnce();
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
    'dist/web/index.html',
    'dist/web/nullwise.html',
    'dist/web/licences.txt',
    'docs/worked-example.md',
    'docs/pictures/boost.svg',
  ]) {
    expect(existsSync(join(installed, name)), name).toBe(true);
  }
  expect(readdirSync(join(installed, 'docs')).sort()).toEqual([
    'options-and-files.md',
    'pictures',
    'what-eq-cannot-fix.md',
    'worked-example.md',
  ]);

  const served = spawn(process.execPath, [
    join(installed, 'dist/cli/main.js'),
    'web',
    '--port',
    '0',
    '--no-open',
  ]);
  const [said] = (await Promise.race([once(served.stdout, 'data'), once(served, 'exit')])) as [unknown];
  const [address] = /http:\/\/127\.0\.0\.1:\d+\//.exec(String(said)) ?? [];
  expect(address, String(said)).toBeDefined();
  const built = (name: string) => readFileSync(join(root, 'dist/web', name), 'utf8');
  for (const [path, name] of [
    ['', 'index.html'],
    ['nullwise.html', 'nullwise.html'],
  ] as const) {
    const response = await fetch(`${address}${path}`);
    expect(response.status, name).toBe(200);
    expect((await response.text()) === built(name), name).toBe(true);
  }
  // What is bundled asks to be named wherever it goes.
  expect(built('nullwise.html')).toMatch(/<!--[\s\S]*zod \d+\.[\s\S]*MIT License[\s\S]*-->\s*$/);

  const [script] = /assets\/[\w.-]+\.js/.exec(built('index.html')) ?? [];
  expect((await fetch(`${address}${script}`)).status, script).toBe(200);
  served.kill('SIGINT');
  expect((await once(served, 'exit'))[0]).toBe(0);

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
