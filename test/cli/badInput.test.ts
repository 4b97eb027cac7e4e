import { execFileSync } from 'node:child_process';
import { mkdirSync } from 'node:fs';
import { afterAll, describe, expect, test } from 'vitest';
import { curveText } from './curveText.js';
import { manyRuns } from './manyRuns.js';
import { workFolder } from './workFolder.js';

const { run: nullwise, end } = manyRuns();
afterAll(end);

const good = curveText();
const rows = good.split('\n');
const withRow = (line: number, text: string) => rows.with(line - 1, text).join('\n');

const work = workFolder({
  'room.txt': good,
  'empty.txt': '',
  'binary.txt': Uint8Array.from({ length: 4096 }, (_, i) => (i * 37) % 256),
  'one-row.txt': '1000 80\n',
  'broken.txt': withRow(101, '151.7 eighty'),
  'negative.txt': withRow(101, '-151.7 80'),
  'zero.txt': withRow(2, '0 80'),
  'nan.txt': withRow(101, '151.7 NaN'),
  'infinite.txt': withRow(101, '151.7 -Infinity'),
  'words.txt': 'Dear reader,\nthis is no measurement.\n',
});
mkdirSync(work.path('folder'));
execFileSync('mkfifo', [work.path('pipe')]);
const before = work.list();
afterAll(work.remove);

const out = ['--out', 'result'];

describe('bad input ends with exit code 2, one clear message and nothing written', () => {
  test.concurrent.for([
    ['an empty file', ['empty.txt'], ['empty.txt', 'empty', 'expected']],
    ['a binary file', ['binary.txt'], ['binary.txt', 'binary data', 'expected']],
    ['one row', ['one-row.txt'], ['one-row.txt', 'found 1 row', 'expected at least 16']],
    ['words instead of rows', ['words.txt'], ['words.txt', 'expected']],
    ['a broken row in the middle', ['broken.txt'], ['broken.txt line 101', 'eighty', 'expected']],
    ['a negative frequency', ['negative.txt'], ['negative.txt line 101', '-151.7', 'expected']],
    ['a frequency of zero', ['zero.txt'], ['zero.txt line 2', '0', 'expected']],
    ['a level that is NaN', ['nan.txt'], ['nan.txt line 101', 'NaN', 'expected']],
    ['a level that is infinite', ['infinite.txt'], ['infinite.txt line 101', 'Infinity', 'expected']],
    ['a missing file', ['nowhere.txt'], ['nowhere.txt', 'found no such file', 'expected a measurement']],
    ['a folder instead of a file', ['folder'], ['folder: found a folder', 'expected a measurement']],
    ['a named pipe that nobody feeds', ['pipe'], ['pipe: found a named pipe', 'expected a measurement']],
  ] as const)('%s', async ([, args, expected], { expect }) => {
    const { code, stdout, stderr } = await nullwise(['fit', ...args, ...out], { cwd: work.folder });
    for (const words of expected) expect(stderr).toContain(words);
    expect(stderr).toMatch(/^error: /);
    expect(stderr.trimEnd().split('\n').length).toBe(1);
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(work.list()).toEqual(before);
  });

  test('several bad files are reported together', async () => {
    const { code, stderr } = await nullwise(['fit', 'nan.txt', 'nowhere.txt', 'zero.txt', '--bands', '0'], {
      cwd: work.folder,
    });
    expect(code).toBe(2);
    for (const words of ['--bands', 'nan.txt line 101', 'nowhere.txt', 'zero.txt line 2']) {
      expect(stderr).toContain(words);
    }
  });

  test('diagnose refuses in the same way, and --json keeps standard output empty', async () => {
    const { code, stdout, stderr } = await nullwise(['diagnose', 'nan.txt', '--json'], { cwd: work.folder });
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(stderr).toContain('nan.txt line 101');
  });
});

describe('output that cannot be written ends with exit code 2 and a message, before any work', () => {
  test.concurrent.for([
    ['a path below a regular file', ['--out', 'room.txt/result'], 'room.txt is a file, expected a folder'],
    ['a regular file', ['--out', 'room.txt'], 'room.txt is a file, expected a folder'],
  ] as const)('%s', async ([, args, words], { expect }) => {
    const { code, stdout, stderr } = await nullwise(['fit', 'room.txt', ...args, '--force'], {
      cwd: work.folder,
    });
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(stderr).toContain(words);
    expect(work.list()).toEqual(before);
  });

  test.runIf(process.platform === 'linux')('a place where not even root can make a folder', async () => {
    const { code, stdout, stderr } = await nullwise(
      ['fit', 'room.txt', '--bands', '1', '--out', '/proc/nullwise/result'],
      { cwd: work.folder },
    );
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(stderr).toContain('/proc/nullwise/result');
  });
});
