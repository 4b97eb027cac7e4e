import { spawn, spawnSync } from 'node:child_process';
import {
  chmodSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { fileURLToPath } from 'node:url';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { seededRandom } from '../../src/fit/seededRandom.js';
import { curveText } from './curveText.js';
import { nullwise } from './nullwise.js';
import { workFolder } from './workFolder.js';

const moduleUrl = new URL('../../dist/cli/io/writeOutputs.js', import.meta.url).href;
const program = fileURLToPath(new URL('../../dist/cli/main.js', import.meta.url));
const NAMES = ['a.txt', 'b.txt', 'c.txt', 'd.txt'];
const SIZE = 200_000;

let work: ReturnType<typeof workFolder>;
beforeEach(() => {
  work = workFolder({ 'room.txt': curveText() });
});
afterEach(() => work.remove());

const isWhole = (text: string) => text.length === SIZE && /^(.)\1*$/.test(text);

/** Writes set after set over the last until it is killed; says so when the first is there. */
const endlessWriter = () => `
  const { writeOutputs } = await import(${JSON.stringify(moduleUrl)});
  for (let n = 0; ; n++) {
    const content = String(n % 10).repeat(${SIZE});
    writeOutputs({ folder: ${JSON.stringify(work.path('out'))}, overwrite: true, inputs: [] },
      ${JSON.stringify(NAMES)}.map((name) => ({ name, content })));
    if (n === 0) process.stdout.write('begun');
  }`;

/** Resolves when the process is gone. */
function killedAfter(ms: number): Promise<void> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, ['--input-type=module', '-e', endlessWriter()], {
      stdio: ['ignore', 'pipe', 'inherit'],
    });
    child.stdout.once('data', () => setTimeout(() => child.kill('SIGKILL'), ms));
    child.on('error', reject);
    child.on('exit', (_, signal) =>
      signal === 'SIGKILL' ? resolve() : reject(new Error('it ended by itself')),
    );
  });
}

describe('a run that is killed while it writes', () => {
  test('leaves every file whole, the earlier one or the new one, and the next run clears its temporary files away', async () => {
    const random = seededRandom(5);
    let leftovers = 0;
    for (let round = 0; round < 6; round++) {
      await killedAfter(random() * 40);
      for (const name of NAMES) {
        const path = work.path('out', name);
        expect(existsSync(path), `${name} after round ${round}`).toBe(true);
        expect(isWhole(readFileSync(path, 'utf8')), `${name} after round ${round}`).toBe(true);
      }
      const others = readdirSync(work.path('out')).filter((name) => !NAMES.includes(name));
      for (const name of others) expect(name).toMatch(/^\.[a-d]\.txt\.\d+\.(new|old)\.tmp$/);
      leftovers += others.length;
    }
    // Else the kills came between two writings and the test says nothing.
    expect(leftovers).toBeGreaterThan(0);
    const script = endlessWriter().replace("process.stdout.write('begun')", 'process.exit(0)');
    spawnSync(process.execPath, ['--input-type=module', '-e', script]);
    expect(readdirSync(work.path('out')).sort()).toEqual(NAMES);
  });

  test('does not stand in the way of a later one that happens to get its process number', async () => {
    const script = `
      import { mkdirSync, writeFileSync } from 'node:fs';
      const { writeOutputs } = await import(${JSON.stringify(moduleUrl)});
      const folder = ${JSON.stringify(work.path('out'))};
      mkdirSync(folder);
      for (const kind of ['new', 'old']) writeFileSync(folder + '/.a.txt.' + process.pid + '.' + kind + '.tmp', 'half');
      writeFileSync(folder + '/a.txt', 'earlier');
      writeOutputs({ folder, overwrite: true, inputs: [] }, [{ name: 'a.txt', content: 'new' }]);`;
    const { status, stderr } = spawnSync(process.execPath, ['--input-type=module', '-e', script], {
      encoding: 'utf8',
    });
    expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
    expect(readdirSync(work.path('out'))).toEqual(['a.txt']);
    expect(readFileSync(work.path('out', 'a.txt'), 'utf8')).toBe('new');
  });

  test('leaves alone what others keep in the folder, hidden or not', async () => {
    mkdirSync(work.path('out'));
    const kept = [
      '.a.txt.tmp',
      '.mine.txt.1.new.tmp',
      '.a.txt.x.old.tmp',
      `.a.txt.${process.pid}.new.tmp`,
      'notes',
    ];
    for (const name of kept) writeFileSync(work.path('out', name), 'mine');
    const script = `
      const { writeOutputs } = await import(${JSON.stringify(moduleUrl)});
      writeOutputs({ folder: ${JSON.stringify(work.path('out'))}, overwrite: true, inputs: [] }, [{ name: 'a.txt', content: 'new' }]);`;
    spawnSync(process.execPath, ['--input-type=module', '-e', script]);
    expect(readdirSync(work.path('out')).sort()).toEqual([...kept, 'a.txt'].sort());
  });

  test('of the whole program, at any moment, leaves each result as it was or whole and new', async () => {
    const args = ['fit', 'room.txt', '--bands', '2', '--out', 'out', '--force'];
    const run = (extra: readonly string[]) => nullwise([...args, ...extra], { cwd: work.folder });
    const started = performance.now();
    expect((await run(['--title', 'first'])).code).toBe(0);
    const tookMs = performance.now() - started;
    const results = readdirSync(work.path('out'));
    const random = seededRandom(6);
    for (let round = 0; round < 2; round++) {
      const child = spawn(process.execPath, [program, ...args, '--title', 'second'], {
        cwd: work.folder,
        stdio: 'ignore',
      });
      const gone = new Promise((resolve) => child.on('exit', resolve));
      // Most of them late, when it writes.
      setTimeout(() => child.kill('SIGKILL'), tookMs * (0.6 + 0.5 * random()));
      await gone;
      for (const name of results) {
        const text = readFileSync(work.path('out', name), 'utf8');
        expect(text.length, name).toBeGreaterThan(50);
        if (name.endsWith('.json')) expect(() => JSON.parse(text)).not.toThrow();
        if (name.endsWith('.html')) expect(text.trimEnd().endsWith('</html>')).toBe(true);
        if (name.endsWith('.svg')) expect(text.trimEnd().endsWith('</svg>')).toBe(true);
      }
    }
  });
});

describe('what cannot be written is said in words, with exit code 2, and nothing is left', () => {
  const isRoot = process.getuid?.() === 0;
  const fitInto = (out: string) =>
    nullwise(['fit', 'room.txt', '--bands', '1', '--out', out], { cwd: work.folder });

  test.skipIf(isRoot)(
    'a folder that may only be read (skipped for root, who may write anywhere)',
    async () => {
      mkdirSync(work.path('locked'));
      chmodSync(work.path('locked'), 0o555);
      const { code, stderr, stdout } = await fitInto('locked');
      expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
      expect(stderr).toContain('cannot write in');
      chmodSync(work.path('locked'), 0o755);
    },
  );

  test('a folder of the system that takes no files', async () => {
    if (!existsSync('/proc/self')) return;
    const { code, stderr, stdout } = await fitInto('/proc/nullwise');
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(stderr).toMatch(/\/proc\/nullwise: cannot (be written|write)/);
  });

  test.skipIf(!isRoot)('a full disk (needs root, to make a small one)', async ({ skip }) => {
    mkdirSync(work.path('disk'));
    const mounted = spawnSync('mount', ['-t', 'tmpfs', '-o', 'size=64k', 'tmpfs', work.path('disk')]);
    if (mounted.status !== 0) skip('no small disk can be made here');
    try {
      writeFileSync(work.path('disk', 'design.json'), 'earlier');
      const { code, stderr, stdout } = await nullwise(
        ['fit', 'room.txt', '--bands', '1', '--out', 'disk', '--force'],
        { cwd: work.folder },
      );
      expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
      expect(stderr).toMatch(/disk: cannot be written .*no space left/i);
      expect(readdirSync(work.path('disk'))).toEqual(['design.json']);
      expect(readFileSync(work.path('disk', 'design.json'), 'utf8')).toBe('earlier');
    } finally {
      spawnSync('umount', [work.path('disk')]);
    }
  });

  test('a full disk beneath the standard output ends in words and not in a stack', () => {
    if (!existsSync('/dev/full')) return;
    const { status, stderr } = spawnSync(
      'sh',
      ['-c', '"$0" "$1" schema device > /dev/full', process.execPath, program],
      { encoding: 'utf8' },
    );
    expect(status).toBe(2);
    expect(stderr).toMatch(/cannot be written/);
    expect(stderr).not.toMatch(/\n\s+at /);
  });

  test('a link to a folder is followed, and files come to lie where it leads', async () => {
    mkdirSync(work.path('real'));
    symlinkSync(work.path('real'), work.path('link'));
    expect((await fitInto('link')).code).toBe(0);
    expect(readdirSync(work.path('real'))).toContain('design.json');
  });

  test('a link that leads nowhere is no folder', async () => {
    symlinkSync(work.path('nowhere'), work.path('link'));
    const { code, stderr } = await fitInto('link');
    expect(code).toBe(2);
    expect(stderr).toContain('link');
    expect(existsSync(work.path('nowhere'))).toBe(false);
  });
});
