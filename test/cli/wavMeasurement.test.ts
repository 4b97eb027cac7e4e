import { afterAll, describe, expect, test } from 'vitest';
import { writeWav } from '../../src/measurement/wavWriter.js';
import { type Design, designSchema } from '../../src/schema/design.js';
import { diagnosisSchema } from '../../src/schema/diagnosis.js';
import { impulseSamples, impulseWav, rate } from '../measurement/impulseWav.js';
import { curveText } from './curveText.js';
import { manyRuns } from './manyRuns.js';
import { workFolder } from './workFolder.js';

const { run: nullwise, end } = manyRuns();
afterAll(end);

const good = impulseWav({ reflections: [[150, 0.4]], noise: 1e-6 }, 'pcm24');
const work = workFolder({
  'here.wav': good,
  'there.wav': impulseWav({ reflections: [[190, 0.4]], noise: 1e-6 }, 'float32'),
  'room.txt': curveText(),
  'jobs.ndjson': '{"measurement":"room.txt","gate":"5 ms"}\n{"measurement":"room.txt"}\n',
  'cut.wav': good.subarray(0, 30_000),
  'setup.json': '{ "microphoneDistance": "1 m" }',
  'empty.wav': new Uint8Array(0),
  'words.wav': new TextEncoder().encode('20 80\n40 80\n'),
  'silent.wav': good.map((byte, i) => (i < 44 ? byte : 0)),
  'second.wav': writeWav({
    channels: [new Float64Array(24_000), impulseSamples()],
    sampleRateHz: rate,
    format: 'pcm24',
  }).bytes,
  'compressed.wav': good.map((byte, i) => (i === 20 ? 2 : byte)),
});
afterAll(work.remove);

const run = (...args: string[]) => nullwise(args, { cwd: work.folder });

describe('an impulse response as a measurement', () => {
  test("diagnose finds the speaker's resonances in it, and takes another for the moved placement", async () => {
    const { code, stdout, stderr } = await run('diagnose', 'here.wav', '--moved', 'there.wav', '--json');
    expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
    const { findings, warnings } = diagnosisSchema.parse(JSON.parse(stdout));
    expect(
      findings.some(({ kind, frequencyHz }) => kind === 'peak' && Math.abs(frequencyHz - 300) < 60),
    ).toBe(true);
    expect(warnings.map(({ code }) => code)).not.toContain('moved-not-trusted');
  });

  test('fit with a gate touches nothing that the gate does not resolve, and is the same twice', async () => {
    const args = ['fit', 'here.wav', '--gate', '3 ms', '--bands', '2', '--json'];
    const [first, second] = [await run(...args), await run(...args)];
    expect({ code: first.code, stderr: first.stderr }).toEqual({ code: 0, stderr: '' });
    expect(second.stdout).toBe(first.stdout);
    const design: Design = designSchema.parse(JSON.parse(first.stdout));
    expect(design.range.fromHz).toBeGreaterThanOrEqual(333.3);
    expect(design.warnings.map(({ code }) => code)).toContain('range-cut-by-gate');
    for (const { frequencyHz, type } of design.filters) {
      expect(frequencyHz).toBeGreaterThanOrEqual(333);
      expect(type).not.toBe('lowShelf');
    }
  });

  test('a time without a unit is in seconds, a channel that is not there is named', async () => {
    const long = await run('fit', 'here.wav', '--gate', '5');
    expect(long.code).toBe(2);
    expect(long.stderr).toContain('here.wav: a gate of 5000 ms, but only 490 ms follow');
    const channel = await run('diagnose', 'here.wav', '--channel', '3');
    expect(channel.code).toBe(2);
    expect(channel.stderr).toContain('here.wav: no channel 3');
  });
});

describe('what only an impulse response can be asked', () => {
  const alone = 'found with measurements in text only, expected an impulse response (WAV) among them';

  test.each([
    [['fit', 'room.txt', '--gate', '5 ms'], `--gate: ${alone}`],
    [['diagnose', 'room.txt', '--channel', '2', '--gate', 'auto'], `--gate and --channel: ${alone}`],
    [['predict', 'room.txt', '--setup', 'setup.json', '--channel', '1'], `--channel: ${alone}`],
  ])('%j is refused', async (args, message) => {
    const { code, stdout, stderr } = await run(...args);
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(stderr).toContain(message);
  });

  test('may be asked where one measurement is one, and that nothing be gated of any', async () => {
    const mixed = await run('diagnose', 'here.wav', 'room.txt', '--gate', 'auto', '--quiet');
    const none = await run('diagnose', 'room.txt', '--no-gate', '--quiet');
    expect([mixed, none].map(({ code, stderr }) => ({ code, stderr }))).toEqual([
      { code: 0, stderr: '' },
      { code: 0, stderr: '' },
    ]);
  });

  test('is refused of a job in text that asks it for itself, and not of a whole batch', async () => {
    const quick = ['--effort', 'quick', '--bands', '2', '--channel', '1'];
    const { code, stdout } = await run('batch', 'jobs.ndjson', ...quick);
    expect(code).toBe(0);
    const lines = stdout.trim().split('\n');
    const said = lines.map((line) => JSON.parse(line) as { ok: boolean; error?: string });
    expect(said.map(({ ok }) => ok)).toEqual([false, true]);
    expect(said[0]!.error).toContain(`jobs.ndjson, line 1: --gate: ${alone}`);
  });
});

describe('a bad WAV file ends with exit code 2, what was found, and nothing written', () => {
  const cases = [
    ['cut.wav', 'promises'],
    ['empty.wav', 'too short for a WAV file (0 bytes'],
    ['words.wav', 'not a WAV file: it begins with "20 8"'],
    ['silent.wav', 'every sample is 0'],
    ['compressed.wav', 'encoded as ADPCM'],
  ] as const;
  for (const command of ['response', 'diagnose', 'fit'] as const) {
    test.concurrent.for(cases)(`${command} %s`, async ([file, words], { expect }) => {
      const out = command === 'diagnose' ? [] : ['--out', `${command}-${file}-out`];
      const { code, stdout, stderr } = await run(command, file, ...out);
      expect(stderr).toContain(`${file}: `);
      expect(stderr).toContain(words);
      expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
      expect(work.list().filter((name) => name.endsWith('-out'))).toEqual([]);
    });
  }
});

describe('where several channels are there, a refusal says which one was read and what picks another', () => {
  test.each([
    [['fit', 'second.wav', '--out', 'second-out'], 'every sample is 0'],
    [['diagnose', 'second.wav', '--channel', '1'], 'every sample is 0'],
    [['response', 'second.wav', '--out', 'second-out'], 'every sample is 0'],
    [['deconvolve', 'second.wav', '--length', '0.1 s', '--out', 'second-out'], 'the recording is silent'],
  ])('%j', async (args, words) => {
    const { code, stdout, stderr } = await run(...args);
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(stderr).toContain(`error: second.wav: ${words}`);
    expect(stderr).toContain(' (channel 1 of 2 was read; --channel picks another)\n');
    expect(work.list()).not.toContain('second-out');
  });

  test('and that one is read', async () => {
    expect(await run('diagnose', 'second.wav', '--channel', '2', '--quiet')).toEqual({
      code: 0,
      stdout: '',
      stderr: '',
    });
  });
});

test('the sample rate of an impulse response is its own, not that of the filters', async () => {
  const { stdout } = await run('fit', 'here.wav', '--sample-rate', '96 kHz', '--bands', '1', '--json');
  expect((JSON.parse(stdout) as Design).sampleRateHz).toBe(2 * rate);
});
