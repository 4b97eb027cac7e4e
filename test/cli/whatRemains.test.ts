import { writeFileSync } from 'node:fs';
import { afterAll, expect, test } from 'vitest';
import type { Design } from '../../src/schema/design.js';
import { curveText } from './curveText.js';
import { manyRuns } from './manyRuns.js';
import { workFolder } from './workFolder.js';

const { run: nullwise, end } = manyRuns();
afterAll(end);

const work = workFolder({ 'a.txt': curveText(), 'b.txt': curveText({ rows: 200, offsetDb: 3 }) });
afterAll(work.remove);
const QUICK = ['--effort', 'quick', '--bands', '2'];
const runFit = (...args: string[]) => nullwise(['fit', ...args, ...QUICK], { cwd: work.folder });

test('the summary tells what is left and why, what more bands would bring, and how the worst position fares', async () => {
  const { code, stdout } = await runFit('a.txt', 'b.txt', '--aim', 'worst');
  expect(code).toBe(0);
  expect(stdout).toMatch(/^Left over: {2}\d\.\d\d dB RMS/m);
  expect(stdout).toMatch(/^More bands: the knee is at \d band/m);
  expect(stdout).toMatch(
    /^Positions: {2}the worst of 2 positions goes from .*\n?.*the worst position\s+was aimed at/m,
  );
});

test('a repeatability is given or estimated, and bands that follow noise are not spent', async () => {
  const [given, estimated] = await Promise.all([
    runFit('a.txt', '--repeatability', '3 dB', '--json'),
    runFit('a.txt', '--repeat', 'b.txt', '--json'),
  ]);
  const [all, none] = [estimated, given].map(({ stdout }) => JSON.parse(stdout) as Design);
  expect(none!.repeatability).toMatchObject({ db: 3, source: 'given' });
  expect(none!.filters.length + none!.repeatability!.bandsNotSpent).toBe(all!.filters.length);
  expect(none!.repeatability!.bandsNotSpent).toBeGreaterThan(0);
  expect(all!.repeatability).toMatchObject({ source: 'estimated', measurements: 2, bandsNotSpent: 0 });
  // The same curve 3 dB louder is the same curve.
  expect(all!.repeatability!.db).toBeLessThan(0.05);
});

test('what is neither of the aims, or no level, is refused with what was expected', async () => {
  const [aim, level] = await Promise.all([
    runFit('a.txt', '--aim', 'best'),
    runFit('a.txt', '--repeatability', '3 Hz'),
  ]);
  expect([aim.code, level.code]).toEqual([2, 2]);
  expect(aim.stderr).toMatch(/--aim: found "best", expected mean or worst/);
  expect(level.stderr).toMatch(/--repeatability: found "3 Hz"/);
});

test('a repeatability is either given or estimated', async () => {
  const { code, stdout, stderr } = await runFit(...['a.txt', '--repeat', 'b.txt', '--repeatability', '3 dB']);
  expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
  expect(stderr).toContain('--repeatability: found beside --repeat');
});

test('a batch takes the same per job', async () => {
  writeFileSync(
    work.path('jobs.csv'),
    'job,measurement,aim,repeat,repeatability\nworst,a.txt|b.txt,worst,,\nagain,a.txt,,b.txt,\nnoisy,a.txt,,,3 dB\n',
  );
  const all = ['--repeatability', '1 dB', ...QUICK];
  const { code, stdout } = await nullwise(['batch', work.path('jobs.csv'), ...all]);
  expect(code).toBe(0);
  const results = stdout
    .trim()
    .split('\n')
    .map((line) => (JSON.parse(line) as { readonly result: Design }).result);
  expect(results[0]!.positions!.aim).toBe('worst');
  expect(results.map(({ repeatability }) => repeatability?.source)).toEqual(['given', 'estimated', 'given']);
  expect([results[0], results[2]].map((result) => result!.repeatability!.db)).toEqual([1, 3]);
});
