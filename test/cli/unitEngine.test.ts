import { writeFileSync } from 'node:fs';
import { pathToFileURL } from 'node:url';
import { afterAll, describe, expect, test } from 'vitest';
import { curveText } from './curveText.js';
import { nullwise } from './nullwise.js';
import { workFolder } from './workFolder.js';

const setup = (microphoneDistance: string, speakerDistance = '29 cm') =>
  JSON.stringify({
    microphoneDistance,
    surfaces: [{ name: 'wall behind', speakerDistance, microphoneDistance: '129 cm' }],
  });

const work = workFolder({
  'room.txt': curveText(),
  'plain.json': setup('63 in'),
  'sum.json': setup('5 ft + 3 in', '343 m/s / 4 / 300 Hz'),
  'nonsense.json': setup('5 blorps', '29 cm + 2'),
});
afterAll(work.remove);

// Says on standard error whenever the program asks for mathjs.
writeFileSync(
  work.path('resolve.mjs'),
  `export async function resolve(name, context, next) {
  if (name === 'mathjs') process._rawDebug('[mathjs]');
  return next(name, context);
}`,
);
writeFileSync(
  work.path('watch.mjs'),
  `import { register } from 'node:module';
register('./resolve.mjs', import.meta.url);`,
);

async function watched(...args: string[]) {
  const watch = { NODE_OPTIONS: `--import ${pathToFileURL(work.path('watch.mjs')).href}` };
  const { code, stdout, stderr } = await nullwise(args, { cwd: work.folder, env: watch });
  return {
    code,
    stdout,
    loadedMathjs: stderr.includes('[mathjs]'),
    words: stderr.replace(/^\[mathjs\]\n/gm, ''),
  };
}

const diagnosed = (...args: string[]) => watched('diagnose', 'room.txt', '--json', ...args);

describe('the unit engine on the command line', () => {
  test('common units load no mathjs', async () => {
    const { code, stdout, loadedMathjs, words } = await diagnosed(
      ...['--from', '0.08 kHz', '--setup', 'plain.json'],
    );
    expect({ code, loadedMathjs, words }).toEqual({ code: 0, loadedMathjs: false, words: '' });
    expect(JSON.parse(stdout)).toMatchObject({ range: { fromHz: 80 } });
  });

  test('a sum in a set-up is reckoned, printed once, and gives what its value would', async () => {
    const summed = await diagnosed('--setup', 'sum.json');
    expect(summed).toMatchObject({ code: 0, loadedMathjs: true, words: '' });
    writeFileSync(work.path('value.json'), setup('1.6002 m', `${343 / 1200} m`));
    const findings = (stdout: string) =>
      (
        JSON.parse(stdout) as { findings: { kind: string; frequencyHz: number; verdict: string }[] }
      ).findings.map(({ kind, frequencyHz, verdict }) => ({
        kind,
        verdict,
        frequencyHz: Math.round(frequencyHz),
      }));
    const valued = await diagnosed('--setup', 'value.json');
    expect(valued).toMatchObject({ code: 0, loadedMathjs: false });
    expect(findings(summed.stdout)).toEqual(findings(valued.stdout));
  });

  test('fit with sums in options and set-up leaves its files, and says so once', async () => {
    const { code, stderr } = await nullwise(
      ['fit', 'room.txt', '--bands', '1', '--setup', 'sum.json', '--from', '343 m/s / 4 m', '--out', 'made'],
      { cwd: work.folder },
    );
    expect(code).toBe(0);
    expect(stderr.match(/Wrote /g)).toHaveLength(1);
    expect(work.list().filter((name) => name.startsWith('made/'))).toHaveLength(6);
  });

  test('nonsense units end with exit code 2, every problem and nothing written', async () => {
    const there = work.list();
    const { code, stdout, stderr } = await nullwise(
      ['fit', 'room.txt', '--setup', 'nonsense.json', '--from', '80 zorks', '--out', 'never'],
      { cwd: work.folder },
    );
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(stderr).toMatch(/--from: found "80 zorks", expected a frequency .*no unit "zorks" is known/);
    expect(stderr).toMatch(
      /microphoneDistance: found "5 blorps", expected a length .*no unit "blorps" is known/,
    );
    expect(stderr).toMatch(/speakerDistance: found "29 cm \+ 2", expected a length .*lack a unit/);
    expect(work.list()).toEqual(there);
  });

  test('a unit of the wrong kind is answered without mathjs', async () => {
    const { code, loadedMathjs, words } = await diagnosed('--from', '80 cm');
    expect({ code, loadedMathjs }).toEqual({ code: 2, loadedMathjs: false });
    expect(words).toContain('--from: found "80 cm", expected a frequency');
  });

  test('demo and schema load no mathjs', async () => {
    expect(await watched('schema', 'setup')).toMatchObject({ code: 0, loadedMathjs: false });
    expect(await watched('demo', '--quiet', '--out', 'demo')).toMatchObject({ code: 0, loadedMathjs: false });
  });
});
