import { expect, test } from 'vitest';
import { readCurveText } from '../../../src/measurement/readCurveText.js';
import { readMeasurement } from '../../../src/measurement/readMeasurement.js';
import type { ProjectFile } from '../../../web/store/project.js';
import { projectFile } from '../../../web/store/projectFile.js';
import { readCalibrated, readJob } from '../../../web/work/readJob.js';
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

const bytes = (text: string) => new TextEncoder().encode(text);
const measured = bytes(Array.from({ length: 40 }, (_, i) => `${20 * 1.19 ** i} ${80 + (i % 7)}`).join('\n'));

test.each([
  [
    'with a column that is not used',
    'Frequency (Hz);Level (dB);Spread (dB)\n20;-1;1\n20000;1;1\n',
    'column-ignored',
  ],
  ['in what looks like kHz', '0.02 -1\n1 0\n20 1\n', 'frequency-unit-suspect'],
])('what is to be said of a calibration %s goes with the request, the file and a check', (_, text, code) => {
  const files = [
    projectFile('room.txt', 'position', measured),
    projectFile('microphone.txt', 'calibration', bytes(text)),
  ] as const;
  const { request, files: readings } = readJob({ files, options: {}, overrules: [], held: [] });
  const { curve, warnings } = readCurveText(bytes(text), 'microphone.txt');
  expect(warnings.map((each) => each.code)).toEqual([code]);
  expect(request?.calibration).toEqual(curve);
  expect(request?.warnings).toEqual(warnings);
  expect(readings.map((reading) => reading.warnings)).toEqual([[], warnings.map(({ message }) => message)]);
  expect(readCalibrated(...files).warnings).toEqual(expect.arrayContaining([...warnings]));
});
