import { readFileSync, writeFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { createBankRunner } from '../../src/filter/runBank.js';
import { readWavChannel } from '../../src/measurement/wavFile.js';
import { writeWav } from '../../src/measurement/wavWriter.js';
import { type Design, designSchema } from '../../src/schema/design.js';
import { curveText } from './curveText.js';
import { manyRuns } from './manyRuns.js';
import { workFolder } from './workFolder.js';

const { run: nullwise, end } = manyRuns();
afterAll(end);

const channel = (step: number) => Float64Array.from({ length: 5000 }, (_, i) => 0.5 * Math.sin(step * i));
const wav = (sampleRateHz: number) =>
  writeWav({ channels: [channel(0.05), channel(0.3)], sampleRateHz, format: 'pcm24' }).bytes;
const work = workFolder({ 'room.txt': curveText(), 'in.wav': wav(48000), 'other.wav': wav(44100) });
afterAll(work.remove);

const render = (...args: string[]) => nullwise(['render', ...args], { cwd: work.folder });
let design: Design;

beforeAll(async () => {
  const { stdout } = await nullwise(['fit', 'room.txt', '--bands', '2', '--json'], { cwd: work.folder });
  writeFileSync(work.path('design.json'), stdout);
  design = designSchema.parse(JSON.parse(stdout));
});

describe('render', () => {
  test('writes every channel as the filters and the input gain make it', async () => {
    const { code, stdout } = await render('design.json', 'in.wav', 'out.wav');
    expect(code).toBe(0);
    expect(stdout).toContain('2 channels, 48000 Hz, 24-bit PCM');
    expect(stdout).toContain('Nothing clipped');
    const bytes = readFileSync(work.path('out.wav'));
    for (const [index, step] of [0.05, 0.3].entries()) {
      const expected = channel(step);
      createBankRunner(design.filters, 48000, design.inputGainDb)(expected);
      const { samples } = readWavChannel(bytes, 'out.wav', index + 1);
      // Two roundings to 24 bits, the first of them filtered.
      expect(Math.max(...samples.map((s, i) => Math.abs(s - expected[i]!)))).toBeLessThan(1e-6);
    }
    expect(design.filters.length).toBeGreaterThan(0);
  });

  test('overwrites nothing unless forced to, and never what it reads', async () => {
    writeFileSync(work.path('mine.wav'), 'mine');
    const refused = await render('design.json', 'in.wav', 'mine.wav');
    expect({ code: refused.code, stdout: refused.stdout }).toEqual({ code: 2, stdout: '' });
    expect(readFileSync(work.path('mine.wav'), 'utf8')).toBe('mine');
    const { code, stdout, stderr } = await render('design.json', 'in.wav', 'mine.wav', '--force', '--json');
    expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
    expect(JSON.parse(stdout)).toMatchObject({ schemaVersion: 1, frameCount: 5000, samplesOver: 0 });
    const onto = await render('design.json', 'in.wav', 'in.wav', '--force');
    expect(onto.code).toBe(2);
    expect(readFileSync(work.path('in.wav'))).toEqual(Buffer.from(wav(48000)));
  });

  test('refuses another sample rate, and what is no design, and writes nothing', async () => {
    const rate = await render('design.json', 'other.wav', 'never.wav');
    expect(rate.code).toBe(2);
    expect(rate.stderr).toContain('--sample-rate 44100');
    const noDesign = await render('room.txt', 'in.wav', 'never.wav');
    expect(noDesign.code).toBe(2);
    expect(noDesign.stderr).toContain('room.txt');
    expect(work.list()).not.toContain('never.wav');
  });
});
