import { readFileSync } from 'node:fs';
import { afterAll, expect, test } from 'vitest';
import { design } from '../../src/design.js';
import { designJson } from '../../src/export/json/designJson.js';
import { readMeasurement } from '../../src/measurement/readMeasurement.js';
import { DEFAULT_LIMITS } from '../../src/pipeline/designRequest.js';
import { impulseWav } from '../measurement/impulseWav.js';
import { curveText } from './curveText.js';
import { manyRuns } from './manyRuns.js';
import { workFolder } from './workFolder.js';

const { run: nullwise, end } = manyRuns();
afterAll(end);

const made = design({
  title: 'simulated',
  measurements: [readMeasurement(new TextEncoder().encode(curveText()), 'room.txt')],
  target: {},
  ...DEFAULT_LIMITS,
  bands: 1,
  effort: 'quick',
});
const work = workFolder({
  'design.json': designJson(made),
  'impulse.wav': impulseWav(),
  'room.txt': curveText(),
  'jobs.csv': 'measurement\nroom.txt\n',
});
afterAll(work.remove);
const before = work.list();

const commands = (out: string): readonly (readonly string[])[] => [
  ['response', 'impulse.wav', '--out', out],
  ['response', 'impulse.wav', '--energy', out],
  ['export', 'design.json', '--format', 'csv', '--out', out],
  ['render', 'design.json', 'impulse.wav', out],
  ['sweep', out, '--length', '0.5 s'],
  ['deconvolve', 'impulse.wav', '--length', '0.2 s', '--out', out],
  ['batch', 'jobs.csv', '--out', out],
];

test.each([...commands(''), ...commands('folder/'), ...commands('jobs.csv/')])(
  'a file is not written under no name, nor under that of a folder: %s %s %s %s %s %s',
  async (...args) => {
    const { code, stdout, stderr } = await nullwise([...args, '--force'], { cwd: work.folder });
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(stderr).toMatch(
      /^error: (?:found an empty name|(?:folder|jobs\.csv)\/: found the name of a folder), expected that of the file to write\n$/,
    );
    expect(work.list()).toEqual(before);
    expect(readFileSync(work.path('jobs.csv'), 'utf8')).toBe('measurement\nroom.txt\n');
  },
);

test.each(commands('room.txt/x.out').slice(0, -1))(
  'a file in a folder that is none is called as it was written: %s %s %s %s %s %s',
  async (...args) => {
    const { code, stdout, stderr } = await nullwise([...args, '--force'], { cwd: work.folder });
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(stderr).toMatch(
      /^error: room\.txt\/x\.out(?:, room\.txt\/x\.out\.json)?: found that .* is a file, expected a folder\n$/,
    );
    expect(work.list()).toEqual(before);
  },
);
