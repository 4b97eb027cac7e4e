import { writeFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Warning } from '../../src/warning.js';
import { impulseWav } from '../measurement/impulseWav.js';
import { curveText } from './curveText.js';
import { manyRuns } from './manyRuns.js';
import { workFolder } from './workFolder.js';

const { run: nullwise, end } = manyRuns();
afterAll(end);

const heading = 'frequency;level;deviation\n';
const plain = `${heading}20;0.5;3\n1000;0;3\n20000;-1.5;3\n`;
const work = workFolder({
  'room.txt': curveText(),
  'other.txt': `frequency;level;coherence\n${curveText({ offsetDb: 2 })
    .split('\n')
    .slice(1, -1)
    .map((row) => `${row.replace(' ', ';')};1\n`)
    .join('')}`,
  'room.wav': impulseWav({ reflections: [[300, 0.4]], noise: 1e-6 }),
  'setup.json':
    '{ "microphoneDistance": "1 m", "surfaces": [ { "name": "wall", "speakerDistance": "40 cm", "microphoneDistance": "140 cm" } ] }',
  'microphone.txt': plain,
  'kilohertz.txt': '0.02 0.5\n1 0\n20 -1.5\n',
  'house.txt': plain,
  'straight.txt': '# smoothed and gated\n20 0.5\n1000 1\n20000 2\n',
  'jobs.ndjson': '{"measurement":"room.txt","calibration":"microphone.txt","target":"house.txt"}\n',
});
afterAll(work.remove);

const quick = ['--bands', '1', '--effort', 'quick'];
const calibrated = ['--calibration', 'microphone.txt'];

async function run(...args: string[]): Promise<string> {
  const { code, stdout, stderr } = await nullwise(args, { cwd: work.folder });
  expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
  return stdout;
}

const warningsOf = async (...args: string[]) =>
  (JSON.parse(await run(...args, '--json')) as { warnings: Warning[] }).warnings;

/** The files whose unused column is told of, in order. */
const ignoredIn = (warnings: readonly Warning[]) =>
  warnings
    .filter(({ code }) => code === 'column-ignored')
    .map(({ message }) => /^\S+/.exec(message)?.[0])
    .sort();

describe('what is noticed in reading a calibration or a target is told as of a measurement', () => {
  beforeAll(async () => {
    writeFileSync(work.path('design.json'), await run('fit', 'room.txt', ...quick, '--json'));
  });

  test.each([
    ['fit', ['fit', 'room.txt', ...quick, ...calibrated, '--target', 'house.txt'], ['house', 'microphone']],
    ['diagnose', ['diagnose', 'room.txt', 'room.txt', ...calibrated], ['microphone']],
    ['predict', ['predict', 'room.txt', '--setup', 'setup.json', ...calibrated], ['microphone']],
    ['response', ['response', 'room.wav', ...calibrated], ['microphone']],
    ['verify', ['verify', 'design.json', 'room.txt', 'room.txt', ...calibrated], ['microphone']],
    ['verify --before', ['verify', 'design.json', 'room.txt', '--before', 'other.txt'], ['other']],
    ['verify --other', ['verify', 'design.json', 'room.txt', '--other', 'other.txt'], ['other']],
  ])('%s --json', async (_, args, files) => {
    expect(ignoredIn(await warningsOf(...args))).toEqual(files.map((name) => `${name}.txt`));
  });

  test('batch', async () => {
    const { result } = JSON.parse(await run('batch', 'jobs.ndjson', ...quick)) as {
      result: { warnings: Warning[] };
    };
    expect(ignoredIn(result.warnings).map((path) => path?.replace(/^.*[/\\]/, ''))).toEqual([
      'house.txt',
      'microphone.txt',
    ]);
  });

  test('in words too', async () => {
    const text = await run('diagnose', 'room.txt', ...calibrated);
    expect(text.replace(/\s+/g, ' ')).toContain(
      'microphone.txt has columns that are neither frequency, level nor phase; they were not used: "deviation"',
    );
  });

  test('a calibration in kilohertz is suspected', async () => {
    const warnings = await warningsOf('diagnose', 'room.txt', '--calibration', 'kilohertz.txt');
    expect(warnings.find(({ code }) => code === 'frequency-unit-suspect')?.message).toMatch(
      /^kilohertz\.txt ends at 20 Hz/,
    );
  });

  test('nobody is told that a calibration or a target is smooth, gated or of small numbers', async () => {
    const straight = ['--calibration', 'straight.txt', '--target', 'straight.txt'];
    const codes = (warnings: readonly Warning[]) => warnings.map(({ code }) => code);
    const without = codes(await warningsOf('fit', 'room.txt', ...quick));
    const added = codes(await warningsOf('fit', 'room.txt', ...quick, ...straight)).filter(
      (code) => !without.includes(code),
    );
    expect(added.filter((code) => /^(measurement|level-unit|frequency-unit|column)/.test(code))).toEqual([]);
  });
});
