import { execFile, spawn } from 'node:child_process';
import { appendFileSync, existsSync, readFileSync, symlinkSync, utimesSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, test } from 'vitest';
import { curveText } from './curveText.js';
import { nullwise } from './nullwise.js';
import { workFolder } from './workFolder.js';

const program = fileURLToPath(new URL('../../dist/cli/main.js', import.meta.url));
const QUICK = ['--effort', 'quick', '--bands', '3'];

const work = workFolder({
  'a.txt': curveText(),
  'b.txt': curveText({ offsetDb: 3 }),
  'broken.txt': '20 80\n25 what\n30 80\n',
  'jobs.csv': [
    'job;measurement;bands;max-boost',
    'one;a.txt;2;',
    'two;broken.txt;;',
    'three;"b.txt";;3 dB',
    'four;a.txt | b.txt;;',
    'five;none.txt;;',
    ';a.txt;many;',
    '',
  ].join('\n'),
});
afterAll(() => work.remove());

interface Line {
  readonly job: string;
  readonly ok: boolean;
  readonly options?: Record<string, unknown>;
  readonly result?: { readonly filters: readonly unknown[]; readonly limits: Record<string, number> };
  readonly error?: string;
}
const linesOf = (text: string) =>
  text
    .split('\n')
    .slice(0, -1)
    .map((line) => JSON.parse(line) as Line);

const whole = nullwise(['batch', work.path('jobs.csv'), ...QUICK, '--workers', '2']);

describe('a batch', () => {
  test('gives one line for each job in the order of the manifest, and goes on after a bad file', async () => {
    const { code, stdout, stderr } = await whole;
    const lines = linesOf(stdout);
    expect(code).toBe(0);
    expect(lines.map(({ job, ok }) => [job, ok])).toEqual([
      ['one', true],
      ['two', false],
      ['three', true],
      ['four', true],
      ['five', false],
      ['6', false],
    ]);
    expect(lines[1]!.error).toMatch(/broken\.txt.*2/s);
    expect(lines[4]!.error).toMatch(/none\.txt/);
    expect(lines[5]!.error).toMatch(/--bands.*many/);
    for (const [i, line] of [
      [1, 3],
      [4, 6],
      [5, 7],
    ] as const) {
      expect(lines[i]!.error).toContain(`${work.path('jobs.csv')}, line ${line}: `);
    }
    expect(stderr).toMatch(/3 of 6 jobs failed/);
  });

  test('may be asked for JSON as every other command, and gives the same', async () => {
    expect(await nullwise(['batch', work.path('jobs.csv'), ...QUICK, '--json'])).toEqual(await whole);
  });

  test('takes a job’s own options before those of the batch', async () => {
    const lines = linesOf((await whole).stdout);
    expect(lines.map(({ result }) => result?.limits.bands)).toEqual([
      2,
      undefined,
      3,
      3,
      undefined,
      undefined,
    ]);
    expect(lines[2]!.result!.limits.maxBoostDb).toBe(3);
    expect(lines[0]!.result!.limits.maxBoostDb).toBe(6);
  });

  test('gives what fit gives, and the same on one worker as on three', async () => {
    const [alone, fit] = await Promise.all([
      nullwise(['batch', work.path('jobs.csv'), ...QUICK, '--workers', '3']),
      nullwise(['fit', work.path('b.txt'), '--max-boost', '3', '--json', ...QUICK]),
    ]);
    expect(alone.stdout).toBe((await whole).stdout);
    const { errorAgainstBands: _, ...withoutCurve } = JSON.parse(fit.stdout) as Record<string, unknown>;
    expect(linesOf(alone.stdout)[2]!.result).toEqual(withoutCurve);
  });

  test('tells the error against the number of bands where it is asked, as fit does', async () => {
    const manifest = work.path('one.ndjson');
    writeFileSync(manifest, '{"measurement":"a.txt"}\n');
    const [batch, fit] = await Promise.all([
      nullwise(['batch', manifest, '--against-bands', ...QUICK]),
      nullwise(['fit', work.path('a.txt'), '--json', ...QUICK]),
    ]);
    const [line] = linesOf(batch.stdout);
    expect(line!.result).toEqual(JSON.parse(fit.stdout));
    expect(line!.result).toHaveProperty('errorAgainstBands.kneeBands');
  });

  test('does each job in exactly one of its shards', async () => {
    const shards = await Promise.all(
      ['1/2', '2/2'].map((shard) => nullwise(['batch', work.path('jobs.csv'), ...QUICK, '--shard', shard])),
    );
    const [odd, even] = shards.map(({ stdout }) => linesOf(stdout));
    const all = linesOf((await whole).stdout);
    expect(odd).toEqual(all.filter((_, i) => i % 2 === 0));
    expect(even).toEqual(all.filter((_, i) => i % 2 === 1));
  });

  test('reads NDJSON, and says of a broken line which it is', async () => {
    writeFileSync(
      work.path('jobs.ndjson'),
      [
        '{"measurement":["a.txt","b.txt"],"bands":2,"maxBoost":"3 dB"}',
        '{"measurement":',
        '{"measurement":"a.txt","band":2}',
        '',
      ].join('\n'),
    );
    const { code, stdout } = await nullwise(['batch', work.path('jobs.ndjson'), ...QUICK]);
    const lines = linesOf(stdout);
    expect(code).toBe(0);
    expect(lines.map(({ job, ok }) => [job, ok])).toEqual([
      ['1', true],
      ['2', false],
      ['3', false],
    ]);
    expect(lines[0]!.result!.limits).toMatchObject({ bands: 2, maxBoostDb: 3 });
    expect(lines[1]!.error).toMatch(/line 2/);
    expect(lines[2]!.error).toMatch(/did you mean "bands"/);
  });
});

describe('options of the whole batch', () => {
  test.each([
    [['--max-boost', 'much'], /--max-boost: found "much"/],
    [['--gate', 'soon'], /--gate: found "soon"/],
    [['--channel', '0'], /--channel: found "0"/],
    [['--aim', 'best'], /--aim: found "best"/],
    [['--effort', 'great'], /--effort: found "great"/],
    [['--target', 'none.json'], /none\.json: found no such file/],
    [['--device', 'none'], /none: found no such file/],
    [['--tilt', '3 Hz', '--bands', '0'], /--tilt: found "3 Hz".*--bands: found "0"/s],
    [['--repeat', 'b.txt'], /unknown option '--repeat'/],
  ])('%j is refused once, before any job and any line', async (wrong, message) => {
    const out = work.path('refused.ndjson');
    const args = ['batch', work.path('jobs.csv'), '--out', out, ...wrong];
    const { code, stdout, stderr } = await nullwise(args);
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(stderr).toMatch(message);
    expect(existsSync(out)).toBe(false);
  });

  test('that are at odds only without what a job says for itself are left to the jobs', async () => {
    const manifest = work.path('own.ndjson');
    writeFileSync(manifest, '{"measurement":"a.txt","q-max":"20"}\n{"measurement":"a.txt"}\n');
    const { code, stdout } = await nullwise(['batch', manifest, ...QUICK, '--q-min', '12']);
    expect(code).toBe(0);
    expect(linesOf(stdout).map(({ ok, error = '' }) => [ok, error])).toEqual([
      [true, ''],
      [false, expect.stringContaining('own.ndjson, line 2: options: --q-min: found 12')],
    ]);
  });
});

describe('an interrupted batch', () => {
  test('says on the next run how many had failed, since they are not tried again', async () => {
    const out = work.path('failed.ndjson');
    const args = ['batch', work.path('jobs.csv'), ...QUICK, '--out', out];
    writeFileSync(out, (await whole).stdout);
    const again = await nullwise(args);
    expect(again.stderr).toMatch('6 of 6 jobs were done before; 3 of them failed and are not tried again');
    expect(readFileSync(out, 'utf8')).toBe((await whole).stdout);
  });

  test('does again with --retry what failed and what was made of files written anew, and nothing else', async () => {
    const files = ['first.txt', 'second.txt', 'third.txt'].map((name) => work.path(name));
    const [manifest, out] = [work.path('retried.csv'), work.path('retried.ndjson')];
    const rows = (bands: string) =>
      `job,measurement,bands\n1,first.txt,2\n2,second.txt,2\n3,third.txt,${bands}\n4,a.txt,2\n`;
    for (const file of files) writeFileSync(file, curveText());
    writeFileSync(files[1]!, '20 80\n25 what\n30 80\n');
    writeFileSync(manifest, rows('two'));
    const args = ['batch', manifest, '--effort', 'quick', '--workers', '2'];
    expect((await nullwise([...args, '--out', out])).stderr).toMatch('2 of 4 jobs failed');
    const before = readFileSync(out, 'utf8').split('\n');

    // One set right, one measured anew.
    writeFileSync(files[1]!, curveText());
    writeFileSync(files[0]!, curveText({ offsetDb: -4 }));
    for (const file of files.slice(0, 2)) utimesSync(file, new Date(), new Date(Date.now() + 5000));
    const told = await nullwise([...args, '--out', out]);
    expect(told.stderr).toMatch(
      /4 of 4 jobs were done before; 2 of them failed.*--retry.*of 1 a file has been/s,
    );
    expect(readFileSync(out, 'utf8').split('\n')).toEqual(before);

    writeFileSync(manifest, rows('3'));
    // The fourth would show that it was done again: its line is put back with a mark of its own.
    const marked = before[3]!.replace('"ok":true', '"ok": true');
    writeFileSync(out, [...before.slice(0, 3), marked, ''].join('\n'));
    const retried = await nullwise([...args, '--out', out, '--retry']);
    expect(retried).toMatchObject({ code: 0, stdout: '' });
    expect(retried.stderr).toMatch('4 of 4 jobs were done before; 3 of them are done again.');
    const fresh = (await nullwise(args)).stdout.split('\n');
    expect(readFileSync(out, 'utf8').split('\n')).toEqual([...fresh.slice(0, 3), marked, '']);
    expect(fresh[0]).not.toBe(before[0]);
    expect(linesOf(readFileSync(out, 'utf8')).map(({ ok }) => ok)).toEqual([true, true, true, true]);
  });

  test('still knows which files were written anew when it has gone on without --retry', async () => {
    const [manifest, out] = [work.path('goes-on.csv'), work.path('goes-on.ndjson')];
    for (const name of ['one.txt', 'two.txt']) writeFileSync(work.path(name), curveText());
    writeFileSync(manifest, 'job,measurement,bands\n1,one.txt,2\n2,two.txt,2\n');
    const args = ['batch', manifest, '--effort', 'quick', '--workers', '1', '--out', out];
    await nullwise(args);
    writeFileSync(out, readFileSync(out, 'utf8').split('\n').slice(0, 1).concat('').join('\n'));
    writeFileSync(work.path('one.txt'), curveText({ offsetDb: -4 }));
    utimesSync(out, new Date(), new Date(Date.now() - 5000));
    utimesSync(work.path('two.txt'), new Date(), new Date(Date.now() - 9000));
    expect((await nullwise(args)).stderr).toMatch(/1 of 2 jobs were done before; of 1 a file has been/);
    const [stale, second] = readFileSync(out, 'utf8').split('\n');
    const retried = await nullwise([...args, '--retry']);
    expect(retried.stderr).toMatch('2 of 2 jobs were done before; 1 of them is done again.');
    const lines = readFileSync(out, 'utf8').split('\n');
    expect(lines[0]).not.toBe(stale);
    expect(lines[1]).toBe(second);
    expect((await nullwise([...args, '--retry'])).stderr).not.toContain('again');
  });

  test.each([[[]], [['--out', 'x.ndjson', '--force']]])('has nothing to retry with %j', async (args) => {
    const { code, stderr } = await nullwise(['batch', work.path('jobs.csv'), '--retry', ...args]);
    expect(code).toBe(2);
    expect(stderr).toMatch(/--retry: found (?:without --out|beside --force)/);
  });

  test('goes on where it was killed, and ends as one that was not', async () => {
    const rows = Array.from(
      { length: 9 },
      (_, i) => `unit ${i + 1},${i % 2 ? 'a.txt' : 'b.txt'},${(i % 5) + 2}`,
    );
    writeFileSync(work.path('many.csv'), ['job,measurement,bands', ...rows, ''].join('\n'));
    const args = ['batch', work.path('many.csv'), '--effort', 'quick', '--workers', '2'];
    const out = work.path('many.ndjson');
    const count = () => (existsSync(out) ? readFileSync(out, 'utf8').split('\n').length - 1 : 0);
    await new Promise<void>((resolve) => {
      const child = execFile(process.execPath, [program, ...args, '--out', out], () => resolve());
      const watch = setInterval(() => {
        if (count() >= 3 || child.exitCode !== null) {
          clearInterval(watch);
          child.kill('SIGKILL');
        }
      }, 2);
    });
    const before = count();
    expect(before).toBeGreaterThanOrEqual(3);
    expect(before).toBeLessThan(9);
    // As a machine leaves it that lost its power in the middle of a line.
    appendFileSync(out, '{"job":"unit ');
    const [resumed, plain] = await Promise.all([nullwise([...args, '--out', out]), nullwise(args)]);
    expect(resumed.code).toBe(0);
    expect(resumed.stderr).toMatch(`${before} of 9 jobs were done before`);
    expect(readFileSync(out, 'utf8')).toBe(plain.stdout);
    expect(linesOf(plain.stdout)).toHaveLength(9);
  });

  test('does not mix results of other options with its own', async () => {
    const rows = (bands: number) => `job,measurement,bands\nfirst,a.txt,2\nsecond,none.txt,${bands}\n`;
    const [manifest, out] = [work.path('mixed.csv'), work.path('mixed.ndjson')];
    writeFileSync(manifest, rows(2));
    const args = ['batch', manifest, '--effort', 'quick', '--out', out];
    expect((await nullwise(args)).code).toBe(0);
    const before = readFileSync(out, 'utf8');
    expect(linesOf(before)[0]!.options).toMatchObject({ measurement: 'a.txt', bands: '2', effort: 'quick' });

    writeFileSync(manifest, rows(3));
    const [otherOption, otherRow] = [await nullwise([...args, '--max-boost', '3 dB']), await nullwise(args)];
    expect([otherOption.code, otherRow.code]).toEqual([2, 2]);
    expect(otherOption.stderr).toMatch(/mixed\.ndjson, line 1.*maxBoost "6 dB", now "3 dB"/s);
    expect(otherRow.stderr).toMatch(/mixed\.ndjson, line 2.*bands "2", now "3"/s);
    expect(readFileSync(out, 'utf8')).toBe(before);

    writeFileSync(manifest, `${rows(2)}third,b.txt,2\n`);
    expect((await nullwise(args)).stderr).toMatch('2 of 3 jobs were done before');
    expect(readFileSync(out, 'utf8').startsWith(before)).toBe(true);
  });

  test('does not go on in a file that holds something else, unless it may begin anew', async () => {
    const out = work.path('other.ndjson');
    writeFileSync(out, '{"job":"stranger","ok":true}\n');
    const args = ['batch', work.path('jobs.csv'), ...QUICK, '--out', out];
    const refused = await nullwise(args);
    expect(refused.code).toBe(2);
    expect(refused.stderr).toMatch(/other\.ndjson, line 1/);
    expect(readFileSync(out, 'utf8')).toBe('{"job":"stranger","ok":true}\n');
    expect((await nullwise([...args, '--force'])).code).toBe(0);
    expect(readFileSync(out, 'utf8')).toBe((await whole).stdout);
  });
});

describe('what a batch may write to', () => {
  const jobs = () => work.path('jobs.csv');

  test.each([
    ['a text without a line end', 'notes of last week'],
    ['another JSON document', '{"schemaVersion":1}'],
    ['a first line that was cut off, of another manifest', '{"job":"stranger","ok":true,"opt'],
  ])('never takes away %s', async (_, text) => {
    const out = work.path('kept.txt');
    writeFileSync(out, text);
    const { code, stderr } = await nullwise(['batch', jobs(), ...QUICK, '--out', out]);
    expect([code, readFileSync(out, 'utf8')]).toEqual([2, text]);
    expect(stderr).toMatch(/kept\.txt, line 1: not a result of job "one"/);
  });

  test('holds no more lines than there are jobs', async () => {
    const [out, manifest] = [work.path('more.ndjson'), work.path('bad.csv')];
    writeFileSync(manifest, 'measurement\nnone.txt\n');
    await nullwise(['batch', manifest, '--out', out]);
    appendFileSync(out, 'a note\n');
    const { code, stderr } = await nullwise(['batch', manifest, '--out', out]);
    expect(code).toBe(2);
    expect(stderr).toContain('more.ndjson, line 2: found a line more than there are jobs, expected what');
  });

  test.each(['a.txt', 'b.txt', 'jobs.csv', 'link.csv'])('is never its input %s', async (name) => {
    if (!existsSync(work.path('link.csv'))) symlinkSync(jobs(), work.path('link.csv'));
    const before = readFileSync(work.path(name), 'utf8');
    const args = ['batch', jobs(), ...QUICK, '--out', work.path(name), '--force'];
    const { code, stderr } = await nullwise(args);
    expect([code, readFileSync(work.path(name), 'utf8')]).toEqual([2, before]);
    expect(stderr).toMatch(/--out: .* is an input of this command/);
  });

  test.runIf(existsSync('/dev/full'))('says so where the disk is full', async () => {
    const { code, stderr } = await nullwise(['batch', jobs(), ...QUICK, '--out', '/dev/full']);
    expect(code).toBe(2);
    expect(stderr).toMatch(/--out: \/dev\/full cannot be written \(ENOSPC/);
  });

  test('may stop reading before the end', async () => {
    const child = spawn(process.execPath, [program, 'batch', jobs(), ...QUICK], { stdio: 'pipe' });
    let stderr = '';
    child.stderr.on('data', (text) => {
      stderr += text;
    });
    child.stdout.once('data', () => child.stdout.destroy());
    const code = await new Promise((resolve) => child.on('close', resolve));
    expect([code, stderr]).toEqual([0, '']);
  });
});

describe('a batch that cannot begin', () => {
  test.each([
    ['a header with a strange column', 'measurement,band\na.txt,3\n', [], /"band"/],
    ['a header without measurements', 'job,bands\nx,3\n', [], /"measurement"/],
    ['no jobs at all', 'measurement\n', [], /no jobs/],
    ['a shard that is none', 'measurement\na.txt\n', ['--shard', '3/2'], /--shard: found "3\/2"/],
    [
      'results that cannot be written',
      'measurement\na.txt\n',
      ['--out', '/no/such/folder/x'],
      /--out.*no\/such/s,
    ],
    ['no workers', 'measurement\na.txt\n', ['--workers', '0'], /--workers/],
  ])('says so for %s', async (_, manifest, args, expected) => {
    writeFileSync(work.path('bad.csv'), manifest);
    const { code, stdout, stderr } = await nullwise(['batch', work.path('bad.csv'), ...args]);
    expect(code).toBe(2);
    expect(stdout).toBe('');
    expect(stderr).toMatch(expected);
  });
});
