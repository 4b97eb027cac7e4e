import { afterAll, describe, expect, test } from 'vitest';
import { predictLines } from '../../cli/predictLine.js';
import { logGrid } from '../../src/curve/logGrid.js';
import { manyRuns } from './manyRuns.js';
import { workFolder } from './workFolder.js';

const dip = (surface: string | undefined, levelDb: number, verdict: 'move' | 'leave' = 'move') => ({
  kind: 'dip' as const,
  frequencyHz: 300,
  levelDb,
  widthOctaves: 0.3,
  verdict,
  cause: { type: 'reflection' as const, ...(surface !== undefined && { surface }) },
  confidence: 0.9,
  evidence: [],
});

/** A flat speaker and the wall 29 cm behind it, which sends back two fifths and less toward the treble: simulated. */
function combText(): string {
  const rows = Array.from(logGrid(40, 16000, 24), (hz) => {
    const strength = 0.6 / 1.58 / Math.hypot(1, hz / 1500);
    const turn = (2 * Math.PI * hz * 0.58) / 343.2;
    const levelDb = 80 + 10 * Math.log10(1 + strength ** 2 + 2 * strength * Math.cos(turn));
    return `${hz.toFixed(3)} ${levelDb.toFixed(3)}`;
  });
  return ['# simulated: a wall behind', ...rows, ''].join('\n');
}

describe('predictLines', () => {
  test('give the command for these files, the deepest dip first, and what predict takes of the options', () => {
    const text = predictLines(
      { findings: [dip('desk', -4), dip('wall behind', -8), dip('ceiling', -9, 'leave')] },
      ['left.txt', 'my room.txt'],
      { setup: 'setup.json', bands: '5', maxBoost: '3 dB', tilt: '-0.8', gate: false, target: 'flat' },
    );
    expect(text).toContain(
      '  nullwise predict left.txt "my room.txt" --setup setup.json --vary "wall behind" --no-gate --bands 5 --max-boost "3 dB"\n',
    );
    expect(text).toContain('another surface: --vary desk)');
    expect(text).not.toContain('ceiling');
    expect(text).toContain('made without --tilt)');
  });

  test('are empty without a set-up, and where no surface wants moving from', () => {
    expect(predictLines({ findings: [dip('desk', -4)] }, ['a.txt'], {})).toBe('');
    expect(predictLines({ findings: [dip(undefined, -4)] }, ['a.txt'], { setup: 's.json' })).toBe('');
  });

  test('keep a shell from reading anything into names', () => {
    const text = predictLines({ findings: [dip(`the "big" $wall's`, -4)] }, ['-odd.txt'], {
      setup: 's.json',
    });
    expect(text).toContain(`predict ./-odd.txt --setup s.json --vary 'the "big" $wall'\\''s'`);
  });
});

describe('fit', () => {
  const { run, end } = manyRuns();
  const setup = {
    microphoneDistance: '1 m',
    baffleWidth: '17 cm',
    surfaces: [{ name: 'wall behind', speakerDistance: '29 cm', microphoneDistance: '129 cm' }],
  };
  const work = workFolder({ 'setup.json': JSON.stringify(setup), 'room.txt': combText() });
  afterAll(() => {
    end();
    work.remove();
  });

  test('prints a command that runs as it stands, and json without a word of it', async () => {
    const asked = ['fit', 'room.txt', '--setup', 'setup.json', '--bands', '3', '--effort', 'quick'];
    const { stdout, stderr } = await run(asked, { cwd: work.folder });
    const line = /^ {2}nullwise (predict .*)$/m.exec(stderr)?.[1];
    expect(stdout).not.toContain('nullwise predict');
    expect(line).toBe('predict room.txt --setup setup.json --vary "wall behind" --bands 3');
    const words = Array.from(line!.matchAll(/"([^"]*)"|(\S+)/g), ([, inside, bare]) => inside ?? bare!);
    const forecast = await run(words, { cwd: work.folder });
    expect(forecast.code).toBe(0);
    expect(forecast.stdout).toContain('Where fit or diagnose advise');
    const json = await run([...asked, '--json'], { cwd: work.folder });
    expect(() => JSON.parse(json.stdout) as unknown).not.toThrow();
    expect(json.stderr).toBe('');
  });
});
