import { readFileSync, writeFileSync } from 'node:fs';
import { afterAll, describe, expect, test } from 'vitest';
import { gaussian, seededRandom } from '../../fixtures/simulate/seededRandom.js';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import type { Filter } from '../../src/filter/filter.js';
import { readWavChannel } from '../../src/measurement/wavFile.js';
import { writeWav } from '../../src/measurement/wavWriter.js';
import { verificationSchema } from '../../src/schema/verification.js';
import { manyRuns } from './manyRuns.js';
import { workFolder } from './workFolder.js';

const filter: Filter = { type: 'peaking', frequencyHz: 1000, gainDb: 6, q: 2 };

// No more than the result that is agreed on: what a fit adds to it (curves, limits, zones) is not there.
const DESIGN = {
  schemaVersion: 1,
  sampleRateHz: 48000,
  inputGainDb: -6,
  levelDb: 80,
  filters: [filter],
  range: { fromHz: 50, toHz: 16000 },
  error: { beforeRmsDb: 2, afterRmsDb: 1, beforeMaxDb: 6, afterMaxDb: 2 },
  findings: [],
  warnings: [],
};

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

/** What an invented speaker in a small room sends out, without the filter and with another in its place. */
function measuredWith(...filters: readonly Filter[]): string {
  const noise = seededRandom(filters.length + 5);
  const rows = Array.from({ length: 400 }, (_, i) => {
    const hz = 20 * 1000 ** (i / 399);
    const ripple = 3 * Math.sin(hz / 90) + 2 * Math.sin(hz / 410) - 10 * Math.log10(1 + (60 / hz) ** 4);
    const eqDb = bankResponseDb(filters, 48000, Float64Array.of(hz))[0]!;
    return `${hz.toFixed(2)} ${(80 + ripple + eqDb + 0.2 * gaussian(noise)).toFixed(2)}`;
  });
  return `# simulated\n${rows.join('\n')}\n`;
}

describe('a design that no fit has written, held against a measurement', () => {
  const { range: _, ...noRange } = DESIGN;
  const files = {
    'off.txt': measuredWith(),
    'on.txt': measuredWith(filter),
    'wrong.txt': measuredWith({ ...filter, gainDb: -6 }),
    'no-range.json': JSON.stringify({ ...noRange, title: 'The living room' }),
    'whole.json': JSON.stringify({
      ...DESIGN,
      curves: {
        frequencyHz: [20, 20],
        measuredDb: [1, 2],
        smoothedDb: [1, 2],
        targetDb: [1, 2],
        eqDb: [1, 2],
      },
    }),
  };
  for (const [name, text] of Object.entries(files)) writeFileSync(work.path(name), text);
  const checked = async (...args: string[]) => {
    const { code, stdout, stderr } = await nullwise('verify', ...args, '--json');
    expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
    return verificationSchema.parse(JSON.parse(stdout));
  };

  test('is as promised or not, where what was measured without it is given too', async () => {
    const good = await checked('by-hand.json', 'on.txt', '--before', 'off.txt');
    expect(good).toMatchObject({ title: 'by-hand.json', asPromised: true, faults: [], range: DESIGN.range });
    expect(good.errorRmsDb).toBeLessThan(0.3);
    const wrong = await checked('by-hand.json', 'wrong.txt', '--before', 'off.txt');
    expect(wrong.faults).toMatchObject([{ type: 'gainSign', filter: 0, gainDb: -6 }]);
    const missing = await checked('by-hand.json', 'off.txt', '--before', 'off.txt');
    expect(missing.faults).toMatchObject([{ type: 'filterMissing', filter: 0 }]);
  });

  test('has said what cannot be told without the rest, in words and figures', async () => {
    const { targetErrorRmsDb, warnings } = await checked('by-hand.json', 'on.txt', '--before', 'off.txt');
    expect(targetErrorRmsDb).toBeUndefined();
    const said = warnings.find(({ code }) => code === 'less-in-design')!.message;
    expect(said).toContain('how near to its target');
    expect(said).toContain('smoothed over 1/12 octave');
    expect(said).not.toContain('whole span');
    const { stdout } = await nullwise('verify', 'by-hand.json', 'on.txt', '--before', 'off.txt');
    expect(stdout).toContain('As promised');
    expect(stdout).not.toContain('Unevenness');
  });

  test('is compared over all that was measured where it names no range', async () => {
    const result = await checked('no-range.json', 'on.txt', '--before', 'off.txt');
    expect(result).toMatchObject({ title: 'The living room', asPromised: true, range: { fromHz: 20 } });
    expect(result.warnings.map(({ message }) => message).join()).toContain('whole span');
  });

  test.each([
    [
      ['by-hand.json', 'on.txt'],
      /by-hand\.json: curves: found nothing, expected what was measured .*--before/,
    ],
    [
      ['no-rate.json', 'on.txt', '--before', 'off.txt'],
      /no-rate\.json line 1: sampleRateHz: found nothing, expected a number/,
    ],
    [['too-high.json', 'on.txt', '--before', 'off.txt'], /filters\[0\]\.frequencyHz: found 24000/],
    [['whole.json', 'on.txt', '--before', 'off.txt'], /whole\.json: found curves\.frequencyHz that do not/],
    [
      ['by-hand.json', 'on.txt', '--before', 'off.txt', '--other', 'by-hand.json'],
      /by-hand\.json: curves: found nothing, .* or give that measurement itself \(--other\)/,
    ],
  ])('is refused with what is missing: %j', async (args, message) => {
    const { code, stdout, stderr } = await nullwise('verify', ...args);
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(stderr).toMatch(message);
  });
});
