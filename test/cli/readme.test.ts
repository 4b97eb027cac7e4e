import { execFile } from 'node:child_process';
import { mkdirSync, readFileSync, symlinkSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { afterAll, expect, test } from 'vitest';
import { createProgram } from '../../cli/program.js';
import { workFolder } from './workFolder.js';

const root = fileURLToPath(new URL('../../', import.meta.url));
const readme = readFileSync(join(root, 'README.md'), 'utf8');
const work = workFolder({
  'measurement.txt': readFileSync(join(root, 'fixtures/demo/position-1.txt'), 'utf8'),
  'setup.json': readFileSync(join(root, 'fixtures/demo/setup.json'), 'utf8'),
});
afterAll(work.remove);

const node = async (args: readonly string[], cwd: string) =>
  (await promisify(execFile)(process.execPath, [...args], { cwd, encoding: 'utf8' })).stdout;

test('the example of the library in the README runs and prints what it says', async () => {
  const [, code] = /```js\n([\s\S]*?)```/.exec(readme) ?? [];
  expect(code).toContain("from 'nullwise'");
  mkdirSync(work.path('node_modules'));
  symlinkSync(root, work.path('node_modules', 'nullwise'), 'junction');
  const printed = await node(['--input-type=module', '-e', code!], work.folder);
  expect(printed).toMatch(/^\d+ filters, [\d.]+ dB uneven before, [\d.]+ dB after\n/);
  expect(printed).toMatch(/^peaking at [\d.]+ Hz, -?[\d.]+ dB, Q [\d.]+$/m);
  expect(printed).toMatch(/^dip at 32\d(\.\d+)? Hz: move$/m);
});

test('the README names every command, and no other', () => {
  const known = createProgram().commands.map((command) => command.name());
  const listed = [...readme.matchAll(/^\| `nullwise (\w+)/gm)].map(([, name]) => name);
  expect(listed.sort()).toEqual(known.sort());
});

test.each(['README.md', 'docs/options-and-files.md'])(
  'every option that %s writes is known to the program',
  (page) => {
    const known = new Set(createProgram().commands.flatMap(({ options }) => options.map(({ long }) => long)));
    const written = [...readFileSync(join(root, page), 'utf8').matchAll(/(?<![\w-])--[a-z][a-z-]*/g)].map(
      ([option]) => option,
    );
    const others = ['--help', '--no-install', '--no-gate'];
    expect(written.filter((option) => !known.has(option) && !others.includes(option))).toEqual([]);
  },
);

test('the reference is complete: every export says what it is, and every type it names is there', async () => {
  const typedoc = join(root, 'docs/api/node_modules/typedoc/bin/typedoc');
  await expect(
    node([typedoc, '--options', 'typedoc.json', '--emit', 'none'], join(root, 'docs/api')),
  ).resolves.toBeDefined();
});
