import { afterAll, describe, expect, test } from 'vitest';
import { curveText } from './curveText.js';
import { manyRuns } from './manyRuns.js';
import { workFolder } from './workFolder.js';

const { run: nullwise, end } = manyRuns();
afterAll(end);

const work = workFolder({ 'room.txt': curveText() });
afterAll(work.remove);

const runFit = (...args: string[]) => nullwise(['fit', 'room.txt', ...args], { cwd: work.folder });

describe('absurd options end with exit code 2, named, with what was found and what was expected', () => {
  test.concurrent.for([
    [
      ['--bands', '0'],
      ['--bands', 'found "0"', 'expected a whole number from 1'],
    ],
    [
      ['--from', '2 kHz', '--to', '200'],
      ['--to', '200 Hz', '--from, 2000 Hz'],
    ],
    [
      ['--from', '30 kHz'],
      ['--from', '30 kHz', 'inside the data (20'],
    ],
    [
      ['--q-min', '5', '--q-max', '2'],
      ['--q-min', 'found 5', 'expected at most --q-max, 2'],
    ],
    [
      ['--sample-rate', '3'],
      ['--sample-rate', 'found "3"', 'expected 8 kHz to 768 kHz'],
    ],
    [
      ['--title', ''],
      ['--title: found an empty text', 'expected a name'],
    ],
    [['--title', ' \t'], ['--title: found an empty text']],
    [['--tilt'], ["option '--tilt <dB per octave>' argument missing"]],
    [
      ['--bnds', '3'],
      ["unknown option '--bnds'", 'Did you mean --bands?'],
    ],
  ] as const)('fit %j', async ([args, expected], { expect }) => {
    const { code, stdout, stderr } = await runFit('--out', 'result', ...args);
    for (const words of expected) expect(stderr).toContain(words);
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(work.list()).toEqual(['room.txt']);
  });

  test.concurrent.for([
    ['diagnose', 'room.txt'],
    ['predict', '--setup', 'setup.json'],
    ['response', 'impulse.wav'],
    ['deconvolve', 'recording.wav'],
  ])('%j takes no empty title', async (args, { expect }) => {
    const { code, stdout, stderr } = await nullwise([...args, '--title', ''], { cwd: work.folder });
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(stderr).toMatch(/^error: --title: found an empty text, expected a name/);
  });

  test.concurrent('all problems of options come together, each on its line', async ({ expect }) => {
    const { code, stderr } = await runFit(
      '--bands',
      '0',
      '--q-min',
      'low',
      '--sample-rate',
      '1',
      '--seed',
      'x',
    );
    expect(code).toBe(2);
    expect(stderr.trimEnd().split('\n')).toHaveLength(5);
    for (const name of ['--bands', '--q-min', '--sample-rate', '--seed'])
      expect(stderr).toContain(`  ${name}: `);
  });

  test.concurrent.for([
    [[], 'Usage: nullwise'],
    [['fitt'], "unknown command 'fitt'"],
    [['fit'], "missing required argument 'measurement'"],
    [['schema', 'nothing'], 'setup, target, batch, design, device'],
    [
      ['fit', 'a.txt', '--setup', 'a.json', '--setup', 'b.json'],
      '--setup: found "a.json" and "b.json", expected one of them',
    ],
    [['batch', 'a.csv', '--device', 'a.json', '--device', 'b.json'], '--device: found "a.json" and "b.json"'],
  ] as const)('nullwise %j', async ([args, words], { expect }) => {
    const { code, stdout, stderr } = await nullwise(args, { cwd: work.folder });
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(stderr).toContain(words);
  });
});

test('an option may be given twice where it gathers, or names no file: the last one counts', async () => {
  const twice = [
    '--bands',
    '0.5',
    '--bands',
    '1',
    '--setup',
    'set.json',
    '--setup',
    'set.json',
    '--moved',
    'no.txt',
    '--moved',
    'none.txt',
    '--quiet',
    '--quiet',
  ];
  const { code, stderr } = await nullwise(['fit', 'missing.txt', ...twice], { cwd: work.folder });
  expect(code).toBe(2);
  expect(stderr.match(/\S+\.txt: found no such file/g)).toHaveLength(3);
  expect(stderr).toContain('set.json: found no such file');
  expect(stderr).not.toContain('--');
});

describe('help', () => {
  test.concurrent('lists every option with its default on standard output and ends well', async ({
    expect,
  }) => {
    const { code, stdout } = await nullwise(['fit', '--help']);
    expect(code).toBe(0);
    for (const option of [
      '--bands <n>',
      '--max-boost <gain>',
      '--moved <measurement>',
      '--calibration <file>',
    ]) {
      expect(stdout).toContain(option);
    }
    for (const standard of [
      '8, or as many as the device has',
      '"6 dB"',
      '"12 dB"',
      '"3 dB"',
      '"0.4"',
      '"10"',
      "48 kHz, or the device's own",
      '"1/12"',
      '"120 Hz"',
    ]) {
      expect(stdout.replace(/\s+/g, ' ')).toContain(`default: ${standard}`);
    }
  });

  test.concurrent('--version prints the version of the package', async ({ expect }) => {
    const { code, stdout } = await nullwise(['--version']);
    expect(code).toBe(0);
    expect(stdout).toMatch(/^\d+\.\d+\.\d+\n$/);
  });
});
