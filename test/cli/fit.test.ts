import { readFileSync, writeFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type Design, designSchema } from '../../src/schema/design.js';
import { curveText } from './curveText.js';
import { manyRuns } from './manyRuns.js';
import type { Ended } from './nullwise.js';
import { workFolder } from './workFolder.js';

const { run: nullwise, end } = manyRuns();
afterAll(end);

const NAMES = [
  'before-after.svg',
  'coefficients.json',
  'design.json',
  'filters.csv',
  'filters.txt',
  'report.html',
];

const work = workFolder({ 'room.txt': curveText() });
afterAll(work.remove);

const runFit = (...args: string[]) =>
  nullwise(['fit', 'room.txt', ...args, '--bands', '1'], { cwd: work.folder });

describe('fit --out', () => {
  let first: Ended;
  beforeAll(async () => {
    first = await runFit('--out', 'deep/result', '--tilt', '-0.8', '--level', '-3 dB');
  });

  test('leaves the six files and no others, and says where', () => {
    expect(first.code).toBe(0);
    expect(work.list().filter((name) => name.startsWith('deep/result/'))).toEqual(
      NAMES.map((name) => `deep/result/${name}`),
    );
    expect(first.stderr).toContain('deep/result/report.html');
  });

  test('prints the summary, then the filters, without colour where nobody watches', () => {
    const { stdout, stderr } = first;
    expect(stdout.indexOf('dB RMS')).toBeGreaterThan(0);
    expect(stdout.indexOf('Frequency (Hz)')).toBeGreaterThan(stdout.indexOf('dB RMS'));
    expect(stdout + stderr).not.toContain('\u001b');
  });

  test('the design holds what the options ask for', () => {
    const json = JSON.parse(readFileSync(work.path('deep', 'result', 'design.json'), 'utf8')) as unknown;
    const design = designSchema.parse(json);
    expect(design).toMatchObject({ levelDb: -3, limits: { bands: 1 } });
    expect(design.target).toMatch(/0\.8/);
  });

  test('refuses to overwrite unless it is forced to, and names what is there', async () => {
    const table = work.path('deep', 'result', 'filters.txt');
    writeFileSync(table, 'mine');
    const again = await runFit('--out', 'deep/result');
    expect({ code: again.code, stdout: again.stdout }).toEqual({ code: 2, stdout: '' });
    expect(again.stderr).toContain('filters.txt');
    expect(again.stderr).toContain('--force');
    expect(readFileSync(table, 'utf8')).toBe('mine');

    const forced = await runFit('--out', 'deep/result', '--force', '--quiet');
    expect(forced).toEqual({ code: 0, stdout: '', stderr: '' });
    expect(readFileSync(table, 'utf8')).not.toBe('mine');
  });

  test('one file in the way keeps all others from being written', async () => {
    const other = workFolder({ 'room.txt': curveText(), 'filters.csv': 'mine' });
    const { code } = await nullwise(['fit', 'room.txt', '--out', '.'], { cwd: other.folder });
    expect(code).toBe(2);
    expect(other.list()).toEqual(['filters.csv', 'room.txt']);
    other.remove();
  });

  test('never overwrites a file that it reads, not even by force', async () => {
    const other = workFolder({ 'filters.txt': curveText() });
    const { code, stderr } = await nullwise(['fit', 'filters.txt', '--out', '.', '--force'], {
      cwd: other.folder,
    });
    expect(code).toBe(2);
    expect(stderr).toContain('filters.txt: found an input of this command');
    expect(readFileSync(other.path('filters.txt'), 'utf8')).toBe(curveText());
    other.remove();
  });
});

test('fit --json prints one JSON document and nothing else, the same bytes twice, as design.json has them', async () => {
  const first = await runFit('--json', '--out', 'json');
  const second = await runFit('--json');
  expect(first).toMatchObject({ code: 0, stderr: '' });
  expect(designSchema.parse(JSON.parse(first.stdout)).filters.length).toBe(1);
  expect(second.stdout).toBe(first.stdout);
  expect(readFileSync(work.path('json', 'design.json'), 'utf8')).toBe(first.stdout);
});

describe('diagnose', () => {
  test('prints findings as JSON in the shape of a design', async () => {
    const { code, stdout, stderr } = await nullwise(['diagnose', 'room.txt', '--json'], { cwd: work.folder });
    expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
    const report = JSON.parse(stdout) as Pick<Design, 'schemaVersion' | 'range' | 'findings' | 'warnings'>;
    expect(report.schemaVersion).toBe(1);
    expect(report.range.fromHz).toBeLessThan(report.range.toHz);
    const hump = report.findings.find(({ kind }) => kind === 'peak');
    expect(Math.abs((hump?.frequencyHz ?? 0) - 120)).toBeLessThan(25);
    expect(Array.isArray(report.warnings)).toBe(true);
  });

  test('prints them as text, and nothing with --quiet', async () => {
    const { stdout } = await nullwise(['diagnose', 'room.txt'], { cwd: work.folder });
    expect(stdout).toMatch(/Peak at 1\d\d Hz, \+\d\.\d dB/);
    const quiet = await nullwise(['diagnose', 'room.txt', '--quiet'], { cwd: work.folder });
    expect(quiet).toEqual({ code: 0, stdout: '', stderr: '' });
  });
});

test('schema prints a JSON Schema', async () => {
  const { code, stdout } = await nullwise(['schema', 'setup']);
  expect(code).toBe(0);
  expect(JSON.parse(stdout)).toMatchObject({ $schema: expect.stringContaining('2020-12'), type: 'object' });
});

test('a reader that goes away early is no fault', async () => {
  const { spawn } = await import('node:child_process');
  const program = new URL('../../dist/cli/main.js', import.meta.url).pathname;
  const child = spawn(process.execPath, [program, 'schema', 'design'], { stdio: ['ignore', 'pipe', 'pipe'] });
  child.stdout.destroy();
  let words = '';
  child.stderr.on('data', (data) => {
    words += String(data);
  });
  const code = await new Promise((resolve) => child.on('close', resolve));
  expect({ code, words }).toEqual({ code: 0, words: '' });
});
