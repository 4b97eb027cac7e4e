import { readFileSync } from 'node:fs';
import { afterAll, describe, expect, test } from 'vitest';
import { readWavChannel } from '../../src/measurement/wavFile.js';
import { writeWav } from '../../src/measurement/wavWriter.js';
import { manyRuns } from './manyRuns.js';
import { workFolder } from './workFolder.js';

// No more than the result that is agreed on: what a fit adds to it (curves, limits, zones) is not there.
const DESIGN = {
  schemaVersion: 1,
  sampleRateHz: 48000,
  inputGainDb: -6,
  levelDb: 80,
  filters: [{ type: 'peaking', frequencyHz: 1000, gainDb: 6, q: 2 }],
  range: { fromHz: 50, toHz: 16000 },
  error: { beforeRmsDb: 2, afterRmsDb: 1, beforeMaxDb: 6, afterMaxDb: 2 },
  findings: [],
  warnings: [],
};
const [filter] = DESIGN.filters;

const click = Float64Array.from({ length: 48000 }, (_, i) => (i === 100 ? 0.5 : 0));
const work = workFolder({
  'by-hand.json': JSON.stringify(DESIGN),
  'too-high.json': JSON.stringify({ ...DESIGN, filters: [{ ...filter, frequencyHz: 24000 }] }),
  'no-rate.json': JSON.stringify({ ...DESIGN, sampleRateHz: undefined }),
  'click.wav': writeWav({ channels: [click], sampleRateHz: 48000, format: 'float64' }).bytes,
});
const { run, end } = manyRuns();
afterAll(async () => {
  await end();
  work.remove();
});
const nullwise = (...args: string[]) => run(args, { cwd: work.folder });

// W3C Web Audio API: BiquadFilterNode.getFrequencyResponse of two implementations, at 48 kHz.
const PUBLISHED = [
  [500, 0.63228],
  [900, 5.04598],
  [1000, 6],
  [1200, 3.86116],
  [2000, 0.62632],
] as const;

/** Level of an impulse response, dB. */
function levelAt(hz: number, taps: ArrayLike<number>): number {
  let [re, im] = [0, 0];
  for (let i = 0; i < taps.length; i++) {
    const turn = (2 * Math.PI * hz * i) / 48000;
    re += taps[i]! * Math.cos(turn);
    im += taps[i]! * Math.sin(turn);
  }
  return 10 * Math.log10(re * re + im * im);
}

describe('a design that no fit has written', () => {
  test('is exported as the response that others compute of its filter', async () => {
    const { code, stdout, stderr } = await nullwise(
      'export',
      'by-hand.json',
      '--format',
      'coefficients-json',
    );
    expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
    const [rate] = JSON.parse(stdout).rates;
    expect(rate).toMatchObject({ sampleRateHz: 48000, inputGainDb: -6 });
    const { b0, b1, b2, a1, a2 } = rate.sections[0].coefficients;
    for (const [hz, db] of PUBLISHED) {
      expect(levelAt(hz, [b0, b1, b2]) - levelAt(hz, [1, a1, a2])).toBeCloseTo(db, 4);
    }
  });

  test.each(['table', 'markdown', 'csv', 'json', 'c-header'])('is listed as %s', async (format) => {
    const { code, stdout } = await nullwise('export', 'by-hand.json', '--format', format);
    expect(code).toBe(0);
    expect(stdout).toContain('1000');
  });

  test('is rendered, its input gain included', async () => {
    const { code } = await nullwise('render', 'by-hand.json', 'click.wav', 'out.wav');
    expect(code).toBe(0);
    const { samples } = readWavChannel(readFileSync(work.path('out.wav')), 'out.wav', 1);
    for (const [hz, db] of PUBLISHED) {
      expect(levelAt(hz, samples) - levelAt(hz, click)).toBeCloseTo(db - 6, 4);
    }
  });

  test.each([
    ['too-high.json', /too-high\.json: filters\[0\]\.frequencyHz: found 24000, expected less than 24000/],
    ['no-rate.json', /no-rate\.json line 1: sampleRateHz: found nothing, expected a number/],
  ])('is refused where its filters cannot be: %s', async (name, message) => {
    for (const args of [
      ['export', name, '--format', 'csv'],
      ['render', name, 'click.wav', 'never.wav'],
    ]) {
      const { code, stdout, stderr } = await nullwise(...args);
      expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
      expect(stderr).toMatch(message);
    }
    expect(work.list()).not.toContain('never.wav');
  });
});
