import { readFileSync } from 'node:fs';
import { afterAll, describe, expect, test } from 'vitest';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import { biquadResponse } from '../../src/filter/biquadResponse.js';
import { valueFromHex } from '../../src/filter/fixedPoint.js';
import { type Design, designSchema } from '../../src/schema/design.js';
import { curveText } from './curveText.js';
import { manyRuns } from './manyRuns.js';
import { workFolder } from './workFolder.js';

const { run: nullwise, end } = manyRuns();
afterAll(end);

const BOX = JSON.stringify({
  name: 'box',
  sampleRatesHz: [44100, 96000],
  bands: [{ types: ['peaking'], count: 3 }],
  gainDb: { min: -12, max: 6, step: 0.5 },
  frequencyHz: { min: 20, max: 20000, perOctave: 3 },
  q: { min: 0.1, max: 4, step: 0.1 },
  qConvention: 'bandwidthOctaves',
});

/** Words of fixed point, in an order and with a sign of its own. */
const fixedPoint = (fractionBits: number, highestHz: number) =>
  JSON.stringify({
    name: 'words',
    sampleRatesHz: [48000, 96000],
    bands: [{ types: ['peaking'], count: 3 }],
    gainDb: { min: -12, max: 6, step: 0.5 },
    frequencyHz: { min: 20, max: highestHz },
    q: { min: 0.3, max: 10 },
    coefficients: {
      format: 'fixed',
      integerBits: 3,
      fractionBits,
      feedbackSign: 'added',
      order: ['a1', 'a2', 'b0', 'b1', 'b2'],
    },
  });

const work = workFolder({
  'room.txt': curveText(),
  'box.json': BOX,
  'words.json': fixedPoint(24, 20000),
  'short.json': fixedPoint(10, 120),
});
afterAll(work.remove);
const run = (...args: string[]) => nullwise(args, { cwd: work.folder });

describe('fit --device', () => {
  test('leaves filters on the device’s grid and what is to be entered beside them', async () => {
    const { code, stdout } = await run('fit', 'room.txt', '--device', 'box.json', '--out', 'result');
    expect(code).toBe(0);
    expect(stdout).toContain('Device:      box; rounding to it costs');
    expect(stdout).toContain('To enter');
    const design: Design = designSchema.parse(
      JSON.parse(readFileSync(work.path('result', 'design.json'), 'utf8')),
    );
    expect(design.sampleRateHz).toBe(44100);
    expect(design.limits.bands).toBe(3);
    expect(design.device).toMatchObject({ name: 'box', qConvention: 'bandwidthOctaves' });
    expect(design.deviceSettings).toHaveLength(design.filters.length);
    expect(design.deviceCost!.costDb).toBeCloseTo(
      design.deviceCost!.roundedRmsDb - design.deviceCost!.unroundedRmsDb,
      2,
    );
    for (const { gainDb, q } of design.deviceSettings!) {
      expect(Number.isInteger(gainDb * 2)).toBe(true);
      expect(Math.abs(q * 10 - Math.round(q * 10))).toBeLessThan(1e-9);
    }
    expect(readFileSync(work.path('result', 'report.html'), 'utf8')).toContain('box; rounding to it costs');
  });

  test('says of a limit that the device makes tighter what bound, and what was asked for', async () => {
    const box = JSON.parse(BOX) as { readonly gainDb: { readonly max: number; readonly min: number } };
    const most = box.gainDb.max.toFixed(1);
    const asked = String(box.gainDb.max + 7);
    const { code, stdout } = await run(
      'fit',
      'room.txt',
      '--device',
      'box.json',
      '--max-boost',
      asked,
      '--out',
      'bound',
    );
    expect(code).toBe(0);
    const bound = `${most} dB (the equalizer; ${asked}.0 dB asked for)`;
    const words = `${most} dB allowed (the equalizer; ${asked}.0 dB asked for)`;
    expect(stdout.replace(/\s+/g, ' ')).toContain(words);
    const report = readFileSync(work.path('bound', 'report.html'), 'utf8');
    expect(report.replace(/\s+/g, ' ').split(`at most ${bound}`)).toHaveLength(3);
    expect(readFileSync(work.path('bound', 'before-after.svg'), 'utf8')).toContain(
      `most boost allowed, ${most} dB`,
    );
    const { limits } = designSchema.parse(
      JSON.parse(readFileSync(work.path('bound', 'design.json'), 'utf8')),
    );
    expect(limits).toMatchObject({ maxBoostDb: Number(asked), withDevice: { maxBoostDb: box.gainDb.max } });
  });

  test('says nothing of the device where what was asked for is the tighter', async () => {
    const { stdout } = await run('fit', 'room.txt', '--device', 'box.json', '--max-boost', '1');
    expect(stdout).toMatch(/of 1\.0 dB allowed\n/);
  });

  test('knows the devices that come along by name', async () => {
    const { code, stdout } = await run(
      'fit',
      'room.txt',
      '--device',
      'five-band-48k',
      '--bands',
      '2',
      '--json',
    );
    expect(code).toBe(0);
    const design = designSchema.parse(JSON.parse(stdout));
    expect(design.device?.name).toBe('five-band-48k');
    expect(design.filters.length).toBeLessThanOrEqual(2);
  });

  test.each([
    [['--device', 'no-such'], /no-such: found no such file, expected one of the devices five-band-48k/],
    [['--device', 'box.json', '--sample-rate', '48000'], /device "box" has: 44100, 96000 Hz/],
    [['--device', 'room.txt'], /room\.txt line 1/],
  ])('%j is refused with exit code 2', async (args, message) => {
    const { code, stdout, stderr } = await run('fit', 'room.txt', ...args);
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(stderr).toMatch(message);
  });
});

interface WordFile {
  readonly numberFormat: string;
  readonly differenceEquation: string;
  readonly coefficientOrder: readonly string[];
  readonly sections: readonly {
    readonly coefficients: Record<'a1' | 'a2' | 'b0' | 'b1' | 'b2', number>;
    readonly hex: Record<string, string>;
    readonly poleRadius: number;
  }[];
}

describe('a device of fixed-point words', () => {
  test('finds its own words, order and sign in coefficients.json, and they have the response of the bank', async () => {
    const { code } = await run('fit', 'room.txt', '--device', 'words.json', '--out', 'words', '--quiet');
    expect(code).toBe(0);
    const file = JSON.parse(readFileSync(work.path('words', 'coefficients.json'), 'utf8')) as WordFile;
    const design = designSchema.parse(JSON.parse(readFileSync(work.path('words', 'design.json'), 'utf8')));
    expect(file.numberFormat).toContain('3.24 fixed point');
    expect(file.differenceEquation).toContain('+ a1*y[n-1]');
    expect(file.coefficientOrder).toEqual(['a1', 'a2', 'b0', 'b1', 'b2']);
    expect(file.sections).toHaveLength(design.filters.length);
    const hz = Float64Array.of(25, 60, 120, 300, 1000, 2500, 6000, 15000);
    const sum = new Float64Array(hz.length);
    for (const { coefficients, hex, poleRadius } of file.sections) {
      expect(poleRadius).toBeLessThan(1);
      for (const [name, value] of Object.entries(coefficients)) {
        if (hex[name] === undefined) expect([name, value]).toEqual(['a0', 1]);
        else expect(valueFromHex(hex[name], { integerBits: 3, fractionBits: 24 })).toBe(value);
      }
      const { b0, b1, b2, a1, a2 } = coefficients;
      // The equation adds the feedback, the reference subtracts it.
      biquadResponse({ b0, b1, b2, a1: -a1, a2: -a2 }, 48000, hz).levelDb.forEach((db, i) => {
        sum[i]! += db;
      });
    }
    const exact = bankResponseDb(design.filters, 48000, hz);
    for (const [i, db] of sum.entries()) expect(Math.abs(db - exact[i]!)).toBeLessThan(0.01);
  });

  test('too short for a low filter is warned of, with how many bits or which structure would do', async () => {
    const { code, stdout } = await run('fit', 'room.txt', '--device', 'short.json', '--json');
    expect(code).toBe(0);
    const { warnings } = designSchema.parse(JSON.parse(stdout));
    const coarse = warnings.filter((warning) => warning.code === 'coefficients-too-coarse');
    expect(coarse.length).toBeGreaterThan(0);
    for (const { message } of coarse) {
      expect(message).toMatch(/is off by up to [\d.]+ dB .* when rounded to 3\.10/);
      expect(message).toMatch(/1[1-9] fraction bits instead of 10/);
      expect(message).toContain('delta-operator form');
    }
  });

  test('too short for a low filter promises the mean and the greatest level of its words, not of the numbers', async () => {
    const { code } = await run('fit', 'room.txt', '--device', 'short.json', '--out', 'short', '--quiet');
    expect(code).toBe(0);
    const { sections } = JSON.parse(
      readFileSync(work.path('short', 'coefficients.json'), 'utf8'),
    ) as WordFile;
    const { eq, range, inputGainDb } = designSchema.parse(
      JSON.parse(readFileSync(work.path('short', 'design.json'), 'utf8')),
    );
    const stored = (hz: Float64Array) => {
      const sum = new Float64Array(hz.length);
      for (const { coefficients } of sections) {
        const { b0, b1, b2, a1, a2 } = coefficients;
        const { levelDb } = biquadResponse({ b0, b1, b2, a1: -a1, a2: -a2 }, 48000, hz);
        for (let i = 0; i < sum.length; i++) sum[i]! += levelDb[i]!;
      }
      return sum;
    };
    const points = 40_001;
    const between = (fromHz: number, toHz: number) =>
      Float64Array.from({ length: points }, (_, i) => fromHz * (toHz / fromHz) ** (i / (points - 1)));
    const most = Math.max(...stored(between(1, 24000)));
    expect(Math.abs(eq.maxDb - most)).toBeLessThan(0.002);
    expect(stored(Float64Array.of(eq.maxAtHz))[0]).toBeCloseTo(most, 2);
    expect(-inputGainDb).toBeGreaterThan(most);
    const inRange = stored(between(range.fromHz, range.toHz));
    expect(Math.abs(eq.meanDb - inRange.reduce((sum, db) => sum + db, 0) / points)).toBeLessThan(0.002);
  });

  test('is given coefficients for several of its rates at once, and no others', async () => {
    const design = work.path('words', 'design.json');
    const rates = ['--sample-rate', '48 kHz', '--sample-rate', '96 kHz'];
    const { code, stdout } = await run('export', design, '--format', 'coefficients-json', ...rates);
    expect(code).toBe(0);
    const file = JSON.parse(stdout) as { rates: { sampleRateHz: number; sections: unknown[] }[] };
    expect(file.rates.map(({ sampleRateHz }) => sampleRateHz)).toEqual([48000, 96000]);
    expect(file.rates[0]!.sections).not.toEqual(file.rates[1]!.sections);
    const other = await run(
      'export',
      design,
      '--format',
      'coefficients-json',
      ...rates,
      '--sample-rate',
      '44100',
    );
    expect({ code: other.code, stdout: other.stdout }).toEqual({ code: 2, stdout: '' });
    expect(other.stderr).toContain('44100');
  });
});

describe('export', () => {
  test('prints text, and writes files without overwriting', async () => {
    const design = work.path('result', 'design.json');
    const printed = await run('export', design, '--format', 'markdown');
    expect(printed.code).toBe(0);
    expect(printed.stdout).toContain('| Band | Type |');

    const rates = ['--sample-rate', '44.1 kHz', '--sample-rate', '96000'];
    const wav = [
      'export',
      design,
      '--format',
      'fir-linear-phase',
      '--taps',
      '1024',
      ...rates,
      '--out',
      'fir.wav',
    ];
    const first = await run(...wav);
    expect(first.code).toBe(0);
    expect(first.stderr).toContain('dB RMS');
    expect(work.list().filter((name) => name.startsWith('fir'))).toEqual(['fir-44100.wav', 'fir-96000.wav']);
    const second = await run(...wav);
    expect(second.code).toBe(2);
    expect(second.stderr).toContain('--force');
    expect((await run(...wav, '--force', '--quiet')).stderr).toBe('');
  });

  test.each([
    [['--format', 'fir-minimum-phase'], '--out: found nothing'],
    [['--format', 'nothing'], 'Allowed choices are table, markdown, csv, json'],
    [
      ['--format', 'c-header', '--order', 'b0,b1'],
      '--order: found "b0,b1", expected each of b0,b1,b2,a1,a2 once',
    ],
    [['--format', 'hex', '--fixed-point', '0.9'], '--fixed-point: found "0.9"'],
    [['--format', 'table', '--taps', '64'], '--taps: found it beside the format table'],
    [[], "required option '--format <name>' not specified"],
  ])('%j is refused with exit code 2', async (args, words) => {
    const { code, stdout, stderr } = await run('export', work.path('result', 'design.json'), ...args);
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(stderr).toContain(words);
  });

  test('refuses a file that is no design', async () => {
    const { code, stderr } = await run('export', 'box.json', '--format', 'table');
    expect(code).toBe(2);
    expect(stderr).toContain('box.json');
  });
});
