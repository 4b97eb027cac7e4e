import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, expect, test } from 'vitest';
import { installedPackages, isPermissive } from '../../docs/make/licences/installedPackages.js';
import { noticesOf } from '../../docs/make/licences/noticesOf.js';

const root = fileURLToPath(new URL('../../', import.meta.url));
const made = mkdtempSync(join(tmpdir(), 'nullwise-licences-'));
afterAll(() => rmSync(made, { recursive: true, force: true }));

test('everything that is installed at run time has a permissive licence', () => {
  const packages = installedPackages(root);
  expect(packages.map(({ name }) => name)).toContain('zod');
  expect(packages.filter(({ licence }) => !isPermissive(licence))).toEqual([]);
});

test.each([
  ['MIT', true],
  ['(MIT OR GPL-3.0-only)', true],
  ['MIT AND GPL-3.0-only', false],
  ['GPL-3.0-only', false],
  ['SEE LICENSE IN LICENSE', false],
  [undefined, false],
])('%s is permissive: %s', (licence, permissive) => {
  expect(isPermissive(licence)).toBe(permissive);
});

test('what a dependency needs counts as well, nested or not, and so does a licence that is missing', () => {
  const put = (path: string, manifest: object) => {
    mkdirSync(join(made, path), { recursive: true });
    writeFileSync(join(made, path, 'package.json'), JSON.stringify(manifest));
  };
  put('.', { dependencies: { a: '1' }, devDependencies: { d: '1' } });
  put('node_modules/a', {
    version: '1.0.0',
    license: 'MIT',
    dependencies: { b: '1', c: '1' },
    optionalDependencies: { e: '1' },
  });
  put('node_modules/b', { version: '2.0.0', license: 'ISC' });
  put('node_modules/a/node_modules/c', { version: '3.0.0' });
  put('node_modules/d', { version: '4.0.0', license: 'MIT' });
  expect(installedPackages(made).map(({ name, version, licence }) => [name, version, licence])).toEqual([
    ['a', '1.0.0', 'MIT'],
    ['b', '2.0.0', 'ISC'],
    ['c', '3.0.0', undefined],
  ]);
});

test('the notices hold the licence text of each of them, or say that it has none', () => {
  const notices = noticesOf(root).split(`\n\n${'='.repeat(80)}\n\n`);
  const packages = installedPackages(root);
  expect(notices).toHaveLength(packages.length);
  for (const [i, { name, version }] of packages.entries()) {
    expect(notices[i]).toMatch(/permission|licen[cs]e/i);
    expect(notices[i]!.startsWith(`${name} ${version} (`)).toBe(true);
  }
});
