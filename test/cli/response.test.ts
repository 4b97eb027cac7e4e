import { readFileSync } from 'node:fs';
import { afterAll, describe, expect, test } from 'vitest';
import { readMeasurement } from '../../src/measurement/readMeasurement.js';
import { writeWav } from '../../src/measurement/wavWriter.js';
import { type ResponseReport, responseSchema } from '../../src/schema/response.js';
import { arrivalSample, impulseSamples, impulseWav, rate } from '../measurement/impulseWav.js';
import { manyRuns } from './manyRuns.js';
import { workFolder } from './workFolder.js';

const { run: nullwise, end } = manyRuns();
afterAll(end);

const reflections = [[300, 0.4]] as const;
const samples = impulseSamples({ reflections, noise: 1e-6 });
const work = workFolder({
  'room.wav': impulseWav({ reflections, noise: 1e-6 }),
  'second.wav': writeWav({
    channels: [new Float64Array(samples.length), samples],
    sampleRateHz: rate,
    format: 'pcm24',
  }).bytes,
  'microphone.txt': '20 2\n20000 2\n',
  'setup.json': '{ "microphoneDistance": "1 m", "temperature": "0 degC" }',
});
afterAll(work.remove);

const run = (...args: string[]) => nullwise(['response', ...args], { cwd: work.folder });
const json = async (...args: string[]): Promise<ResponseReport> => {
  const { code, stdout, stderr } = await run(...args, '--json');
  expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
  return responseSchema.parse(JSON.parse(stdout));
};

describe('response --json', () => {
  test.concurrent('is what the contract says', async ({ expect }) => {
    const report = await json('room.wav');
    expect(report).toMatchObject({ schemaVersion: 1, sampleRateHz: rate, gating: 'auto', clipped: false });
    expect(Math.abs(report.arrivalS * rate - arrivalSample)).toBeLessThan(0.05);
    expect(report.gate.afterS * rate).toBeLessThan(300);
    expect(report.resolvedFromHz * report.gate.afterS).toBeCloseTo(1, 3);
    expect(report.reflections.map(({ delayS }) => Math.round(delayS * rate))).toEqual([300]);
    const { frequencyHz, levelDb, phaseDeg } = report.curve;
    expect(frequencyHz.length).toBeGreaterThan(400);
    expect([levelDb.length, phaseDeg.length]).toEqual([frequencyHz.length, frequencyHz.length]);
  });

  test.concurrent('heeds the gate, the channel, the calibration and the set-up', async ({ expect }) => {
    const report = await json(
      ...['second.wav', '--channel', '2', '--gate', '5ms'],
      ...['--calibration', 'microphone.txt', '--setup', 'setup.json', '--smoothing', '1/12'],
    );
    expect(report).toMatchObject({ gating: 'given', gate: { afterS: 0.005 }, calibrated: true });
    expect(report.resolvedFromHz).toBeCloseTo(200, 1);
    expect(report.smoothingOctaves).toBeCloseTo(1 / 12, 9);
    expect(report.warnings.map(({ code }) => code)).toContain('calibration-range');
    const [reflection] = report.reflections;
    // ISO 9613-1: 331.29 m/s at 0 °C; image source: (1 + ΔL)² = 1 + 4h².
    expect(reflection!.pathDifferenceM).toBeCloseTo(reflection!.delayS * 331.29, 2);
    const longer = 1 + reflection!.pathDifferenceM;
    expect(reflection!.alongsideM).toBeCloseTo(Math.sqrt(longer ** 2 - 1) / 2, 3);
  });

  test.concurrent('keeps all of the file without a gate, joins two curves, follows the period', async ({
    expect,
  }) => {
    const [whole, merged, window] = await Promise.all([
      json('room.wav', '--no-gate'),
      json('room.wav', '--gate', '5ms', '--merge-at', '800 Hz'),
      json('room.wav', '--cycles', '6'),
    ]);
    expect(whole.gating).toBe('none');
    expect(whole.room).toBeUndefined();
    expect(merged.splice?.crossoverHz).toBe(800);
    expect(merged.resolvedFromHz).toBe(whole.resolvedFromHz);
    expect(window).toMatchObject({ gating: 'cycles', cycles: 6 });
  });
});

describe('response', () => {
  test('says in plain words what was found, and leaves curve and room as measurements', async () => {
    const { code, stdout, stderr } = await run(
      'room.wav',
      '--out',
      'curve.txt',
      '--room',
      'what-it-adds.txt',
    );
    expect(code).toBe(0);
    for (const words of [
      'Direct sound:',
      'sample 480.0',
      'Resolved from:',
      'Over the noise:',
      'Clipping:       none seen',
      'The room:',
      'Extra path',
      '6.25        -8.0',
    ])
      expect(stdout).toContain(words);
    expect(stderr).toContain('Wrote curve.txt and what-it-adds.txt');
    const report = await json('room.wav');
    const read = readMeasurement(readFileSync(work.path('curve.txt')), 'curve.txt');
    expect(Array.from(read.curve.levelDb)).toEqual(report.curve.levelDb);
    expect(read.resolvedFromHz).toBe(report.resolvedFromHz);
    const room = readMeasurement(readFileSync(work.path('what-it-adds.txt')), 'what-it-adds.txt');
    expect(Array.from(room.curve.levelDb)).toEqual(report.room?.levelDb);

    const again = await run('room.wav', '--out', 'curve.txt', '--quiet');
    expect(again.code).toBe(2);
    expect(again.stderr).toContain('--force');
    const forced = await run('room.wav', '--out', 'curve.txt', '--force', '--quiet');
    expect(forced).toEqual({ code: 0, stdout: '', stderr: '' });
  });

  test('what it leaves is heeded by fit: nothing below the gate', async () => {
    await run('room.wav', '--gate', '5ms', '--out', 'gated.txt');
    const { stdout } = await nullwise(['diagnose', 'gated.txt', '--json'], { cwd: work.folder });
    const report = JSON.parse(stdout) as {
      readonly range: { readonly fromHz: number };
      readonly warnings: readonly { readonly code: string }[];
    };
    expect(report.range.fromHz).toBeGreaterThan(199);
    expect(report.warnings.map(({ code }) => code)).toContain('range-cut-by-gate');
  });

  test.concurrent.for([
    [
      ['room.wav', '--gate', 'soon'],
      ['--gate', 'found "soon"'],
    ],
    [
      ['room.wav', '--gate', '0'],
      ['--gate', 'found "0"', '5 ms'],
    ],
    [
      ['room.wav', '--gate', '3 s'],
      ['room.wav: a gate of 3000 ms', 'only 490 ms follow'],
    ],
    [['room.wav', '--channel', '2'], ['room.wav: no channel 2; it has one channel']],
    [
      ['room.wav', '--channel', '0'],
      ['--channel', 'found "0"', 'from 1'],
    ],
    [
      ['room.wav', '--cycles', '0.1'],
      ['--cycles', 'from 1 to 100'],
    ],
    [
      ['room.wav', '--cycles', '6', '--gate', '5ms'],
      ['--cycles', 'expected one of them'],
    ],
    [
      ['room.wav', '--no-gate', '--merge-at', '300'],
      ['--merge-at', 'expected a gate'],
    ],
    [
      ['room.wav', '--gate', '5ms', '--merge-at', '100'],
      ['room.wav: the crossover', '100 Hz', '200 Hz'],
    ],
    [['room.wav', '--no-gate', '--room', 'x.txt'], ['--room: found no gate']],
    [
      ['room.wav', '--smoothing', 'much'],
      ['--smoothing', 'found "much"'],
    ],
    [['room.wav', '--out', 'room.wav', '--force'], ['found an input of this command']],
    [['absent.wav'], ['absent.wav: found no such file, expected an impulse response as WAV']],
  ] as const)('%j is refused', async ([args, expected], { expect }) => {
    const { code, stdout, stderr } = await run('--out', 'never.txt', ...args);
    for (const words of expected) expect(stderr).toContain(words);
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(work.list()).not.toContain('never.txt');
  });
});
