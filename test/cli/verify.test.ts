import { readFileSync, writeFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { readCalibrationFile } from '../../cli/io/readFiles.js';
import { curveDigest } from '../../src/curve/curveDigest.js';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import { cookbookCoefficients } from '../../src/filter/cookbookCoefficients.js';
import type { Filter } from '../../src/filter/filter.js';
import { writeWav } from '../../src/measurement/wavWriter.js';
import { type Design, designSchema } from '../../src/schema/design.js';
import { verificationSchema } from '../../src/schema/verification.js';
import { impulseSamples, rate, type SimulatedImpulse } from '../measurement/impulseWav.js';
import { curveText } from './curveText.js';
import { manyRuns } from './manyRuns.js';
import { workFolder } from './workFolder.js';

const { run: nullwise, end } = manyRuns();
afterAll(end);

const work = workFolder({ 'room.txt': curveText() });
afterAll(work.remove);

const verify = (...args: string[]) => nullwise(['verify', 'design.json', ...args], { cwd: work.folder });

/** The measurement file with these filters in force and another level. */
function measured(filters: readonly Filter[], sampleRateHz: number): string {
  const rows = curveText({ offsetDb: -7 }).split('\n');
  return rows
    .map((row) => {
      const [hz, db] = row.split(' ').map(Number);
      if (!(hz! > 0)) return row;
      return `${hz} ${(db! + bankResponseDb(filters, sampleRateHz, Float64Array.of(hz!))[0]!).toFixed(3)}`;
    })
    .join('\n');
}

let design: Design;
beforeAll(async () => {
  const { stdout } = await nullwise(['fit', 'room.txt', '--bands', '3', '--json'], { cwd: work.folder });
  writeFileSync(work.path('design.json'), stdout);
  design = designSchema.parse(JSON.parse(stdout));
  const { filters, sampleRateHz } = design;
  writeFileSync(work.path('good.txt'), measured(filters, sampleRateHz));
  writeFileSync(work.path('off.txt'), measured([], sampleRateHz));
});

describe('verify', () => {
  test('says as promised of what is, whatever the level', async () => {
    const { code, stdout } = await verify('good.txt');
    expect(code).toBe(0);
    expect(stdout).toContain('As promised');
    expect(stdout).toMatch(/Octave +Promised/);
    const json = await verify('good.txt', '--json');
    const result = verificationSchema.parse(JSON.parse(json.stdout));
    expect(result).toMatchObject({ schemaVersion: 1, asPromised: true, faults: [] });
    expect(result.errorRmsDb).toBeLessThan(0.1);
    expect(json.stderr).toBe('');
  });

  test('names an equalizer that is off, still with exit code 0, and leaves text, figures and drawing', async () => {
    const { code, stdout, stderr } = await verify('off.txt', '--out', 'check');
    expect(code).toBe(0);
    expect(stdout).toContain('NOT as promised');
    expect(stdout).toContain('What to do:');
    expect(stderr).toContain('verification.svg');
    expect(readFileSync(work.path('check', 'verification.txt'), 'utf8')).toBe(stdout);
    const json = JSON.parse(readFileSync(work.path('check', 'verification.json'), 'utf8')) as unknown;
    expect(verificationSchema.parse(json).faults[0]?.type).toBe('bypassed');
    expect(readFileSync(work.path('check', 'verification.svg'), 'utf8')).toMatch(/^<svg [\s\S]*<\/svg>\n$/);
    const again = await verify('off.txt', '--out', 'check');
    expect(again.code).toBe(2);
    expect(again.stderr).toContain('--force');
    expect((await verify('off.txt', '--out', 'check', '--force', '--quiet')).code).toBe(0);
  });

  test('--before takes the place of the curve in the design', async () => {
    // Against the filtered curve the filtered one shows no filters at all.
    const { stdout } = await verify('good.txt', '--before', 'good.txt', '--json');
    expect(verificationSchema.parse(JSON.parse(stdout)).faults[0]?.type).toBe('bypassed');
  });

  test('--calibration is taken off every measurement', async () => {
    // A microphone 4 dB too hot about 1 kHz hears that in all it measures.
    const hot = (text: string) =>
      text.replace(/^([\d.]+) ([\d.-]+)$/gm, (_, hz: string, db: string) => {
        const bump = 4 * Math.exp(-((Math.log2(Number(hz) / 1000) / 0.6) ** 2));
        return `${hz} ${(Number(db) + bump).toFixed(3)}`;
      });
    writeFileSync(work.path('hot.txt'), hot(measured(design.filters, design.sampleRateHz)));
    const flat = Array.from({ length: 240 }, (_, i) => `${(19 * 1100 ** (i / 239)).toFixed(3)} 0.000`);
    writeFileSync(work.path('microphone.txt'), hot(flat.join('\n')));
    const without = await verify('hot.txt', '--json');
    expect(verificationSchema.parse(JSON.parse(without.stdout)).asPromised).toBe(false);
    const corrected = await verify('hot.txt', '--calibration', 'microphone.txt', '--json');
    expect(verificationSchema.parse(JSON.parse(corrected.stdout))).toMatchObject({
      asPromised: true,
      faults: [],
    });
    // A design that says which was taken off of its own curve.
    const digest = curveDigest(readCalibrationFile(work.path('microphone.txt')).curve);
    writeFileSync(
      work.path('calibrated.json'),
      JSON.stringify({ ...design, calibration: { name: 'm.txt', digest } }),
    );
    const codesOf = async (...options: string[]) => {
      const command = ['verify', 'calibrated.json', 'hot.txt', ...options, '--json'];
      const { stdout } = await nullwise(command, { cwd: work.folder });
      return verificationSchema.parse(JSON.parse(stdout)).warnings.map(({ code }) => code);
    };
    expect(await codesOf('--calibration', 'microphone.txt')).not.toContain('other-calibration');
    expect(await codesOf()).toContain('other-calibration');
    expect(await codesOf('--before', 'room.txt')).not.toContain('other-calibration');
  });

  test("--other finds left and right exchanged by the other channel's design", async () => {
    const filters: Filter[] = [
      { type: 'peaking', frequencyHz: 420, gainDb: 4, q: 1.5 },
      { type: 'peaking', frequencyHz: 3100, gainDb: -5, q: 2 },
    ];
    writeFileSync(work.path('other.json'), JSON.stringify({ ...design, filters }));
    writeFileSync(work.path('exchanged.txt'), measured(filters, design.sampleRateHz));
    const { code, stdout } = await verify('exchanged.txt', '--other', 'other.json');
    expect(code).toBe(0);
    expect(stdout).toContain('Left and right are exchanged');
    expect(stdout).toContain('one speaker at a time');
  });

  test('refuses what is no design, and curves that share nothing with it', async () => {
    const noDesign = await nullwise(['verify', 'room.txt', 'good.txt'], { cwd: work.folder });
    expect({ code: noDesign.code, stdout: noDesign.stdout }).toEqual({ code: 2, stdout: '' });
    expect(noDesign.stderr).toContain('room.txt');
    const rows = Array.from({ length: 50 }, (_, i) => `${1 + i / 100} 80`).join('\n');
    writeFileSync(work.path('subsonic.txt'), rows);
    const apart = await verify('subsonic.txt');
    expect(apart.code).toBe(2);
    expect(apart.stderr).toMatch(/share less than an octave/);
  });
});

describe('verify of an impulse response', () => {
  const heard = (options: SimulatedImpulse) => impulseSamples({ noise: 1e-6, ...options });
  const wav = (channels: Float64Array[]) =>
    writeWav({ channels, sampleRateHz: rate, format: 'float32' }).bytes;
  const echo: SimulatedImpulse = { reflections: [[600, 0.6]] };
  let impulse: Design;
  const check = async (...args: string[]) => {
    const { code, stdout, stderr } = await nullwise(['verify', 'impulse.json', ...args, '--json'], {
      cwd: work.folder,
    });
    expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
    return verificationSchema.parse(JSON.parse(stdout));
  };
  const through = (samples: Float64Array) =>
    impulse.filters.reduce((signal, filter) => {
      const { b0, b1, b2, a1, a2 } = cookbookCoefficients(filter, rate);
      const out = new Float64Array(signal.length);
      for (let n = 0; n < out.length; n++) {
        out[n] =
          b0 * signal[n]! +
          b1 * (signal[n - 1] ?? 0) +
          b2 * (signal[n - 2] ?? 0) -
          a1 * (out[n - 1] ?? 0) -
          a2 * (out[n - 2] ?? 0);
      }
      return out;
    }, samples);

  beforeAll(async () => {
    writeFileSync(work.path('speaker.wav'), wav([heard({})]));
    const args = ['fit', 'speaker.wav', '--gate', '10 ms', '--bands', '2', '--json'];
    const { stdout } = await nullwise(args, { cwd: work.folder });
    writeFileSync(work.path('impulse.json'), stdout);
    impulse = designSchema.parse(JSON.parse(stdout));
    const silent = heard({ reflections: [[90, -0.8]] });
    writeFileSync(work.path('after.wav'), wav([silent, through(heard(echo))]));
  });

  test('--channel says which channel, --gate keeps a late echo out and --no-gate lets it in', async () => {
    const second = ['after.wav', '--channel', '2'];
    expect(impulse.filters.length).toBeGreaterThan(0);
    const gated = await check(...second, '--gate', '10 ms');
    expect(gated).toMatchObject({ asPromised: true, faults: [] });
    expect((await check('after.wav', '--gate', '10 ms')).asPromised).toBe(false);
    const whole = await check(...second, '--no-gate');
    expect(whole.errorRmsDb).toBeGreaterThan(gated.errorRmsDb + 1);
  });

  test("takes the design's gate where none is given", async () => {
    expect(impulse.gateS).toBeCloseTo(0.01, 9);
    expect(design.gateS).toBeUndefined();
    const second = ['after.wav', '--channel', '2'];
    expect(await check(...second)).toEqual(await check(...second, '--gate', '10 ms'));
  });

  test('neither is taken for measurements in text', async () => {
    const { code, stdout, stderr } = await verify('good.txt', '--before', 'room.txt', '--gate', '10 ms');
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(stderr).toContain('--gate: found with measurements in text only');
  });

  test('a channel that is not there is named', async () => {
    const args = ['verify', 'impulse.json', 'after.wav', '--channel', '3'];
    const { code, stdout, stderr } = await nullwise(args, { cwd: work.folder });
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(stderr).toMatch(/after\.wav: .*3/);
  });
});

describe('verify of a design made at several positions', () => {
  // Another comb at each place: what one of them shows is not what their average does.
  const places = [0.4, 0.55, 0.7, 0.9];
  const positionText = (pathM: number, filters: readonly Filter[], sampleRateHz: number) =>
    measured(filters, sampleRateHz)
      .split('\n')
      .map((row) => {
        const [hz, db] = row.split(' ').map(Number);
        if (!(hz! > 0)) return row;
        const turn = (2 * Math.PI * hz! * pathM) / 343.2;
        const strength = 0.5 / Math.hypot(1, hz! / 1500);
        return `${hz} ${(db! + 10 * Math.log10(1 + strength ** 2 + 2 * strength * Math.cos(turn))).toFixed(3)}`;
      })
      .join('\n');

  test('takes as many, averages them as the fit did, and says what was compared with what', async () => {
    const names = places.map((_, i) => `before-${i}.txt`);
    places.forEach((m, i) => {
      writeFileSync(work.path(names[i]!), positionText(m, [], 48000));
    });
    const fitted = await nullwise(['fit', ...names, '--bands', '3', '--json'], { cwd: work.folder });
    const made = designSchema.parse(JSON.parse(fitted.stdout));
    writeFileSync(work.path('four.json'), fitted.stdout);
    const later = places.map((_, i) => `after-${i}.txt`);
    places.forEach((m, i) => {
      writeFileSync(work.path(later[i]!), positionText(m, made.filters, made.sampleRateHz));
    });
    const run = async (...args: string[]) => {
      const { code, stdout } = await nullwise(['verify', 'four.json', ...args, '--json'], {
        cwd: work.folder,
      });
      expect(code).toBe(0);
      return verificationSchema.parse(JSON.parse(stdout));
    };
    const all = await run(...later);
    expect(all).toMatchObject({ asPromised: true, compared: { after: 4, before: 4, beforeFrom: 'design' } });
    expect(all.warnings.map(({ code }) => code)).not.toContain('compared-with-average');
    expect(all.errorRmsDb).toBeLessThan(0.1);
    const single = await run(later[0]!);
    expect(single.errorRmsDb).toBeGreaterThan(5 * all.errorRmsDb);
    expect(single.warnings.map(({ code }) => code)).toContain('compared-with-average');
    // A position from before the filters, saved by another program and heard through a calibration.
    const table = positionText(places[1]!, [], 48000).replace(/^([\d.]+) ([\d.-]+)$/gm, '$1;$2');
    writeFileSync(work.path('again.csv'), table.replaceAll('.', ',').replaceAll('\n', '\r\n'));
    const tilted = Array.from({ length: 60 }, (_, i) => `${(19 * 1100 ** (i / 59)).toFixed(3)} ${0.01 * i}`);
    writeFileSync(work.path('tilted.txt'), tilted.join('\n'));
    const again = await run('again.csv', '--calibration', 'tilted.txt');
    expect(again.warnings.filter(({ code }) => code === 'same-measurement')).toEqual([
      expect.objectContaining({
        message: expect.stringMatching(/^again\.csv, .* as before-1\.txt, one of the 4/),
      }),
    ]);
    expect(all.warnings.map(({ code }) => code)).not.toContain('same-measurement');
    const older = { ...made.positions!, each: made.positions!.each.map(({ digest: _, ...rest }) => rest) };
    writeFileSync(work.path('older.json'), JSON.stringify({ ...made, positions: older }));
    const ofOlder = await nullwise(['verify', 'older.json', names[1]!, '--json'], { cwd: work.folder });
    const toldOfOlder = verificationSchema.parse(JSON.parse(ofOlder.stdout)).warnings;
    expect(toldOfOlder.map(({ code }) => code)).toContain('compared-with-average');
    expect(toldOfOlder.map(({ code }) => code)).not.toContain('same-measurement');
    const before = names.slice(0, 2).flatMap((name) => ['--before', name]);
    const pair = await run(...later.slice(0, 2), ...before);
    expect(pair).toMatchObject({
      asPromised: true,
      compared: { after: 2, before: 2, beforeFrom: 'measurement' },
    });
    expect(pair.errorRmsDb).toBeLessThan(0.1);
  });
});
