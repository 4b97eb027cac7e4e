import { readFileSync, writeFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { readWavChannel } from '../../src/measurement/wavFile.js';
import { writeWav } from '../../src/measurement/wavWriter.js';
import { deconvolutionSchema } from '../../src/schema/deconvolution.js';
import { responseSchema } from '../../src/schema/response.js';
import { sweepSchema } from '../../src/schema/sweep.js';
import { chainResponse, filtered, noise, pass, peaking } from '../impulse/digitalSystem.js';
import { manyRuns } from './manyRuns.js';
import type { Ended } from './nullwise.js';
import { workFolder } from './workFolder.js';

const { run: nullwise, end } = manyRuns();
afterAll(end);

const rate = 48_000;
const system = [pass('high', 60, 0.7, rate), peaking(500, 5, 3, rate), peaking(3000, -4, 2, rate)];
const delay = 333;
/** Of the square in the simulated motor. */
const a2 = 0.02;

const work = workFolder();
afterAll(work.remove);
const run = (...args: string[]) => nullwise(args, { cwd: work.folder });

describe('sweep, played and recorded, then deconvolve', () => {
  let written: Ended;
  let deconvolved: Ended;
  beforeAll(async () => {
    written = await run('sweep', 'sweep.wav', '--to', '8 kHz', '--length', '2 s', '--silence-after', '1 s');
    const { samples } = readWavChannel(readFileSync(work.path('sweep.wav')), 'sweep.wav');
    const heard = new Float64Array(samples.length);
    const bent = samples.map((v) => v + a2 * v * v);
    heard.set(filtered(system, bent).subarray(0, samples.length - delay), delay);
    writeFileSync(
      work.path('recording.wav'),
      writeWav({ channels: [new Float64Array(heard.length), heard], sampleRateHz: rate, format: 'pcm24' })
        .bytes,
    );
    deconvolved = await run(
      'deconvolve',
      'recording.wav',
      '--channel',
      '2',
      '--sweep',
      'sweep.json',
      '--out',
      'impulse.wav',
      '--json',
    );
  });

  test('leaves sweep and parameters, and says what to mind before it is played', () => {
    expect(written.code).toBe(0);
    expect(written.stdout).toContain('-12.0 dBFS');
    expect(written.stdout).toMatch(/Inverse filter: the sweep reversed in time/);
    expect(written.stdout).toMatch(/volume right down/);
    expect(written.stdout).toMatch(/ears/);
    expect(written.stdout).toMatch(/tweeters/);
    expect(written.stderr).toContain('Wrote sweep.wav and sweep.json');
    const { sweep, inverse } = sweepSchema.parse(JSON.parse(readFileSync(work.path('sweep.json'), 'utf8')));
    expect(sweep).toMatchObject({ fromHz: 20, toHz: 8000, durationS: 2, levelDb: -12, sampleRateHz: rate });
    // Farina 2000: L = T/ln(f₂/f₁); the second harmonic comes L·ln 2 early.
    expect(inverse.timeConstantS).toBeCloseTo(2 / Math.log(400), 9);
    expect(inverse.harmonicLeadS[0]).toBeCloseTo((2 * Math.log(2)) / Math.log(400), 9);
    const { samples } = readWavChannel(readFileSync(work.path('sweep.wav')), 'sweep.wav');
    expect(samples.length).toBe(3.5 * rate);
    expect(20 * Math.log10(samples.reduce((most, v) => Math.max(most, Math.abs(v)), 0))).toBeCloseTo(-12, 1);
  });

  test('gives back the linear response and the second harmonic of what lay between', async () => {
    expect({ code: deconvolved.code, stderr: deconvolved.stderr }).toEqual({ code: 0, stderr: '' });
    const report = deconvolutionSchema.parse(JSON.parse(deconvolved.stdout));
    expect(Math.abs(report.sweepStartS * rate - (0.5 * rate + delay))).toBeLessThan(2);
    const second = report.harmonics.find(({ order }) => order === 2)!;
    const exciting = Float64Array.from(second.frequencyHz);
    const linear = chainResponse(system, rate, exciting);
    const doubled = chainResponse(
      system,
      rate,
      exciting.map((hz) => 2 * hz),
    );
    // sin² in multiple angles: a₂A²/2, over A.
    const shareDb = 20 * Math.log10((a2 * 10 ** (-12 / 20)) / 2);
    exciting.forEach((hz, i) => {
      if (hz < 60) return;
      const exact = shareDb + doubled.levelDb[i]! - linear.levelDb[i]!;
      expect(Math.abs(second.relativeDb[i]! - exact)).toBeLessThan(1);
    });

    const { code, stdout, stderr } = await run('response', 'impulse.wav', '--no-gate', '--json');
    expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
    const { curve } = responseSchema.parse(JSON.parse(stdout));
    const exact = chainResponse(system, rate, Float64Array.from(curve.frequencyHz));
    const inBand = curve.frequencyHz.map((hz, i) => [hz, i] as const).filter(([hz]) => hz > 30 && hz < 7600);
    expect(inBand.length).toBeGreaterThan(200);
    for (const [, i] of inBand) expect(Math.abs(curve.levelDb[i]! - exact.levelDb[i]!)).toBeLessThan(0.1);
  });

  test('the options of the sweep tell the same as its file', async () => {
    const { stdout } = await run(
      ...['deconvolve', 'recording.wav', '--channel', '2', '--to', '8 kHz', '--length', '2 s', '--json'],
    );
    expect(stdout).toBe(deconvolved.stdout);
  });

  test('is told by its help which of the options it needs, and takes the rate of the recording', async () => {
    const [own, made] = await Promise.all([run('deconvolve', '--help'), run('sweep', '--help')]);
    const flat = (text: string) => text.replace(/\s+/g, ' ');
    expect(flat(own.stdout)).toContain('how long it lasts (needed without --sweep)');
    expect(flat(own.stdout)).toContain("sample rate of the file (default: the recording's)");
    expect(flat(made.stdout)).toContain('how long it lasts (default: 10 s)');
    expect(flat(made.stdout)).toContain('sample rate of the file (default: 48 kHz)');
  });

  test('says in words what was found, by order', async () => {
    const { code, stdout, stderr } = await run(
      ...['deconvolve', 'recording.wav', '--channel', '2', '--sweep', 'sweep.json', '--orders', '3'],
    );
    expect(code).toBe(0);
    expect(stdout).toContain('Sweep found at:    0.5069 s');
    expect(stdout).toMatch(/Tone {2}Order 2 {2}Order 3\n/);
    expect(stderr).toContain('--out');
  });

  test('says where the first of two channels is the loop-back of the sweep', async () => {
    const [sweep, both] = ['sweep.wav', 'recording.wav'].map((name) =>
      readWavChannel(readFileSync(work.path(name)), name, name === 'recording.wav' ? 2 : 1),
    );
    const hiss = noise(both!.samples.length, 3);
    const looped = sweep!.samples.map((v, n) => 0.9 * v + 1e-4 * hiss[n]!);
    const said = async (channels: Float64Array[], ...more: string[]) => {
      writeFileSync(
        work.path('looped.wav'),
        writeWav({ channels, sampleRateHz: rate, format: 'pcm24' }).bytes,
      );
      return (await run('deconvolve', 'looped.wav', '--sweep', 'sweep.json', ...more)).stdout;
    };
    expect(await said([looped, both!.samples])).toMatch(/loop-back, take the\s+microphone with --channel 2/);
    const other = await said([both!.samples, looped]);
    expect(other).toMatch(/has 2 channels; the first was used/);
    expect(other).not.toContain('loop-back');
    expect(await said([looped, both!.samples], '--channel', '1')).not.toContain('loop-back');
  });

  test.for([
    [['deconvolve', 'recording.wav'], ['expected --sweep <file>']],
    [['deconvolve', 'recording.wav', '--sweep', 'sweep.json', '--length', '2 s'], ['one or the other']],
    [['deconvolve', 'recording.wav', '--sweep', 'recording.wav'], ['recording.wav']],
    [
      ['deconvolve', 'sweep.json', '--sweep', 'sweep.json'],
      ['sweep.json: ', 'WAV file'],
    ],
    [
      ['deconvolve', 'recording.wav', '--channel', '2', '--length', '10 s'],
      ['recording.wav: the recording is 3.5 s long', '10 s'],
    ],
    [
      ['deconvolve', 'recording.wav', '--channel', '1', '--sweep', 'sweep.json'],
      ['recording.wav: ', 'silent'],
    ],
    [
      ['deconvolve', 'recording.wav', '--length', '2 s', '--sample-rate', '44.1 kHz'],
      ['recording.wav: found a sample rate of 48000 Hz, expected that of the sweep, 44100 Hz'],
    ],
    [['sweep', 'other.wav', '--level', '3 dB'], ['level must lie between -80 and 0 dBFS']],
    [['sweep', 'other.wav', '--from', '30 kHz'], ['at least an octave']],
    [
      ['sweep', 'other.wav', '--length', 'long', '--to', 'high'],
      ['--length: found "long"', '--to: found "high"'],
    ],
    [
      ['sweep', 'sweep.wav'],
      ['sweep.wav, sweep.json', '--force'],
    ],
  ] as const)('%j is refused', async ([args, expected]) => {
    const before = work.list();
    const { code, stdout, stderr } = await run(...args);
    for (const words of expected) expect(stderr).toContain(words);
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(work.list()).toEqual(before);
  });
});
