import { expect, test } from 'vitest';
import { readMeasurement } from '../../../src/measurement/readMeasurement.js';
import type { ProjectFile } from '../../../web/store/project.js';
import { projectFile } from '../../../web/store/projectFile.js';
import { readJob } from '../../../web/work/readJob.js';
import { impulseWav } from '../../measurement/impulseWav.js';

const wav = impulseWav({ reflections: [[192, 0.5]] });
const read = (reading: Pick<ProjectFile, 'gate' | 'channel'>) =>
  readJob({
    files: [{ ...projectFile('speaker.wav', 'position', wav), ...reading }],
    options: {},
    overrules: [],
    held: [],
  });

test.each([
  [{}, {}],
  [{ gate: 'auto' }, { gate: 'auto' }],
  [{ gate: '3 ms' }, { gate: { afterS: 0.003 } }],
] as const)('an impulse response read as %j is what the command line makes of it', (asked, reading) => {
  const { request } = read(asked);
  expect(request?.measurements).toEqual([readMeasurement(wav, 'speaker.wav', reading)]);
});

test('one file read in two ways is not taken for the same', () => {
  const [whole, gated] = [read({}), read({ gate: '3 ms' })].map(({ request }) => request?.measurements[0]);
  expect(gated?.resolvedFromHz).toBeGreaterThan(3 * (whole?.resolvedFromHz ?? Number.POSITIVE_INFINITY));
});

test('a channel that is not there is refused in words', () => {
  const { problems, request } = read({ channel: 2 });
  expect(request).toBeUndefined();
  expect(problems.join()).toMatch(/speaker\.wav: .*channel/);
});
