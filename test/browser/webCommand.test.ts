import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { readWebFiles } from '../../cli/webFiles.js';
import { InputError } from '../../src/inputError.js';
import { root } from './webApp.js';

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'web-files-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** The command as a user runs it, with what it prints. */
function command(...args: readonly string[]) {
  const child = spawn(process.execPath, ['--import', 'tsx', 'cli/main.ts', 'web', '--no-open', ...args], {
    cwd: root,
  });
  const said = { out: '', error: '' };
  child.stdout.on('data', (chunk) => {
    said.out += chunk;
  });
  child.stderr.on('data', (chunk) => {
    said.error += chunk;
  });
  return { child, said };
}

test('nullwise web says where it is, serves the page there, and ends with an interrupt', async () => {
  const { child, said } = command('--port', '0');
  await once(child.stdout, 'data');
  const [address] = /http:\/\/127\.0\.0\.1:\d+\//.exec(said.out) ?? [];
  expect(address, said.error).toBeDefined();
  const page = await fetch(address!);
  expect(page.status).toBe(200);
  expect(await page.text()).toContain('<title>Nullwise');
  child.kill('SIGINT');
  const [code] = (await once(child, 'exit')) as [number | null];
  expect(code).toBe(0);
});

test('a port that is taken is refused as input, and so is one that is none', async () => {
  const other = createServer().listen(0, '127.0.0.1');
  await once(other, 'listening');
  const { port } = other.address() as { port: number };
  for (const [written, words] of [
    [String(port), /--port: found \d+, but it is in use/],
    ['many', /--port: found "many"/],
  ] as const) {
    const { child, said } = command('--port', written);
    const [code] = (await once(child, 'exit')) as [number | null];
    expect(code).toBe(2);
    expect(said.error).toMatch(words);
  }
  other.close();
});

test('where the app was not built that is said, with how to build it', () => {
  expect(() => readWebFiles(folder)).toThrow(InputError);
  expect(() => readWebFiles(folder)).toThrow(/npm run build:web/);
});

test('only pages, scripts and styles of the folder are known, by their own names', () => {
  for (const name of ['index.html', 'a.js', 'secret.txt', '.hidden']) writeFileSync(join(folder, name), name);
  const files = readWebFiles(folder);
  expect([...files.keys()].sort()).toEqual(['/', '/a.js', '/index.html']);
  expect(files.get('/')).toBe(files.get('/index.html'));
});
