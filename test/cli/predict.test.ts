import { readFileSync, writeFileSync } from 'node:fs';
import { afterAll, describe, expect, test } from 'vitest';
import { predictionSchema } from '../../src/schema/prediction.js';
import { curveText } from './curveText.js';
import { manyRuns } from './manyRuns.js';
import { workFolder } from './workFolder.js';

const { run: nullwise, end } = manyRuns();
afterAll(end);

const setup = {
  microphoneDistance: '1 m',
  baffleWidth: '17 cm',
  surfaces: [
    { name: 'wall behind', speakerDistance: '29 cm ± 2 cm', microphoneDistance: '129 cm' },
    { name: 'desk', speakerDistance: '18 cm', microphoneDistance: '30 cm' },
  ],
};
const work = workFolder({ 'setup.json': JSON.stringify(setup), 'room.txt': curveText() });
afterAll(work.remove);

const predict = (...args: string[]) => nullwise(['predict', ...args], { cwd: work.folder });
const vary = ['--setup', 'setup.json', '--vary', 'wall behind', '--from', '10 cm', '--to', '1 m'];

describe('predict', () => {
  test.each([
    [['--bands', '3'], '--bands: found without a measurement, expected one'],
    [['--max-boost', '3', '--gate', 'auto'], '--max-boost and --gate: found without a measurement'],
    [['--calibration', 'none.txt', '--channel', '2'], '--calibration and --channel: found without'],
    [['--microphone', 'stays'], '--microphone: found without --vary'],
  ])('%j has nothing to do with a set-up alone and is refused', async (args, message) => {
    const { code, stdout, stderr } = await predict('--setup', 'setup.json', ...args);
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(stderr).toContain(message);
  });

  test('tells where each surface of a set-up cancels', async () => {
    const { code, stdout } = await predict('--setup', 'setup.json');
    expect(code).toBe(0);
    expect(stdout).toMatch(/wall behind +58 cm +296 Hz/);
    const json = await predict('--setup', 'setup.json', '--json');
    expect(json.stderr).toBe('');
    const { surfaces } = predictionSchema.parse(JSON.parse(json.stdout));
    expect(surfaces[0]).toMatchObject({ name: 'wall behind', pathDifferenceM: 0.58 });
    expect(surfaces[0]!.cancellationsHz[0]).toBeCloseTo(343.2 / 1.16, 1);
  });

  test('leaves figures, text and drawing, and nothing twice without --force', async () => {
    const { code, stdout } = await predict(...vary, '--out', 'moving');
    expect(code).toBe(0);
    expect(readFileSync(work.path('moving', 'prediction.txt'), 'utf8')).toBe(stdout);
    const json = predictionSchema.parse(
      JSON.parse(readFileSync(work.path('moving', 'prediction.json'), 'utf8')) as unknown,
    );
    expect(json.varied!.length).toBeGreaterThan(10);
    expect(readFileSync(work.path('moving', 'prediction.svg'), 'utf8')).toMatch(/^<svg /);
    expect(readFileSync(work.path('moving', 'prediction.csv'), 'utf8')).toMatch(/^place,wall behind \(m\),/);
    const again = await predict(...vary, '--out', 'moving');
    expect(again).toMatchObject({ code: 2, stdout: '' });
    expect((await predict(...vary, '--out', 'moving', '--force', '--quiet')).stdout).toBe('');
  });

  test('offers no place between floor and ceiling that is farther up than they are apart', async () => {
    const at = (name: string, m: number) => ({ name, speakerDistance: m, microphoneDistance: m });
    writeFileSync(
      work.path('tall.json'),
      JSON.stringify({ microphoneDistance: '1 m', surfaces: [at('floor', 1.02), at('ceiling', 1.92)] }),
    );
    const { stdout } = await predict('--setup', 'tall.json', '--vary', 'ceiling', '--json');
    const { varied, warnings } = predictionSchema.parse(JSON.parse(stdout));
    expect(Math.max(...varied!.map((p) => p.speakerDistanceM))).toBeCloseTo(2.89, 6);
    expect(warnings.map(({ code }) => code)).not.toContain('places-left-out');
    const asked = await predict('--setup', 'tall.json', '--vary', 'ceiling: 2 m to 4 m by 50 cm', '--json');
    const far = predictionSchema.parse(JSON.parse(asked.stdout));
    expect(far.varied!.map((p) => p.speakerDistanceM)).toEqual([2, 2.5]);
    expect(far.warnings.find(({ code }) => code === 'places-left-out')!.message).toMatch(
      /^3 of 5 places were left out.*300 cm from "ceiling": the speaker would be behind "floor"/,
    );
  });

  test('asks of a span that reaches farther than anybody moves whether its unit is meant', async () => {
    const far = ['--setup', 'setup.json', '--vary', 'wall behind: 10 to 40', '--json'];
    const near = far.with(3, 'wall behind: 10 cm to 4 m');
    const [warned, silent] = await Promise.all(
      [far, near].map(async (args) => {
        const { stdout } = await predict(...args);
        return predictionSchema.parse(JSON.parse(stdout)).warnings.filter(({ code }) => code === 'span-far');
      }),
    );
    expect(warned!.map(({ message }) => message).join()).toMatch(
      /4000 cm from "wall behind".*one without a unit is in metres/,
    );
    expect(silent).toEqual([]);
  });

  test('says with a measurement what a new fit would leave at each distance', async () => {
    const { code, stdout } = await predict(
      'room.txt',
      ...[
        '--setup',
        'setup.json',
        '--vary',
        'wall behind: 20 cm to 50 cm by 15 cm',
        '--bands',
        '3',
        '--json',
      ],
    );
    expect(code).toBe(0);
    const { varied, now, best, fitted, advised } = predictionSchema.parse(JSON.parse(stdout));
    expect(varied!.map((p) => p.speakerDistanceM)).toEqual([0.2, 0.35, 0.5]);
    expect(advised!.map((p) => p.speakerDistanceM)).toEqual([0.49]);
    for (const place of [...varied!, now!, ...best!, ...advised!]) {
      expect(place.remainingErrorRmsDb).toBeGreaterThan(0);
      expect(place.remainingErrorRmsDb).toBeLessThan(place.errorRmsDb! + 1e-9);
    }
    expect(best![0]!.gainDb).toBeCloseTo(now!.remainingErrorRmsDb! - best![0]!.remainingErrorRmsDb!, 2);
    expect(best![0]!.remainingErrorRmsDb).toBeLessThanOrEqual(advised![0]!.remainingErrorRmsDb!);
    expect(fitted!.map(({ name }) => name)).toEqual(['wall behind', 'desk']);
  });

  test.each([
    [[], /--setup: found none/],
    [['--setup', 'setup.json', '--vary', 'ceiling'], /"ceiling".*"wall behind", "desk"/],
    [['--setup', 'setup.json', '--from', '10 cm'], /without --vary/],
    [['--setup', 'setup.json', '--vary', 'wall behind', '--vary', 'desk'], /a span with each/],
    [
      ['--setup', 'setup.json', '--vary', 'wall behind', '--from', '1 m', '--to', '10 cm'],
      /lesser distance first/,
    ],
    [['--setup', 'setup.json', '--vary', 'wall behind: 10 Hz to 1 m'], /10 Hz/],
    [
      ['--setup', 'setup.json', '--vary', 'wall behind', '--from', '20', '--to', '80'],
      /--to: found "80", expected 0 to 50 m \(a length without a unit is in metres\)/,
    ],
    [['--setup', 'setup.json', '--vary', 'desk: 20 to 80'], /--vary "desk": found "80", expected 0 to 50 m/],
  ] as const)('refuses %j with exit code 2', async (args, message) => {
    const { code, stdout, stderr } = await predict(...args);
    expect(code).toBe(2);
    expect(stdout).toBe('');
    expect(stderr).toMatch(message);
  });
});
