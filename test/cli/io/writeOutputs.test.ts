import { execFileSync, spawnSync } from 'node:child_process';
import { mkdirSync, readFileSync, readlinkSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { writeOutputs } from '../../../cli/io/writeOutputs.js';
import { InputError } from '../../../src/inputError.js';
import { workFolder } from '../workFolder.js';

let work: ReturnType<typeof workFolder>;
beforeEach(() => {
  work = workFolder();
});
afterEach(() => work.remove());

const plan = (overwrite = false, inputs: string[] = []) => ({ folder: work.path('out'), overwrite, inputs });
const text = (name: string) => readFileSync(work.path('out', name), 'utf8');

describe('writeOutputs', () => {
  test('writes text and bytes into a folder that it makes, and leaves no temporary names', () => {
    writeOutputs(plan(), [
      { name: 'a.txt', content: 'ä' },
      { name: 'b.bin', content: Uint8Array.of(0, 255) },
    ]);
    expect(work.list()).toEqual(['out', 'out/a.txt', 'out/b.bin']);
    expect(text('a.txt')).toBe('ä');
    expect([...readFileSync(work.path('out', 'b.bin'))]).toEqual([0, 255]);
  });

  test('leaves nothing, not even the folder it made, when a file in the middle fails', () => {
    const files = [
      { name: 'a.txt', content: 'a' },
      { name: 'missing/b.txt', content: 'b' },
      { name: 'c.txt', content: 'c' },
    ];
    expect(() => writeOutputs({ ...plan(), folder: work.path('deep', 'out') }, files)).toThrow(InputError);
    expect(work.list()).toEqual([]);
  });

  test('puts back what it had replaced when a later rename fails', () => {
    mkdirSync(work.path('out'));
    writeFileSync(work.path('out', 'a.txt'), 'old a');
    const sabotage = {
      name: 'c.txt',
      get content() {
        rmSync(work.path('out', `.b.txt.${process.pid}.new.tmp`));
        return 'c';
      },
    };
    const files = [{ name: 'a.txt', content: 'new a' }, { name: 'b.txt', content: 'b' }, sabotage];
    expect(() => writeOutputs(plan(true), files)).toThrow(/nothing was left there/);
    expect(work.list()).toEqual(['out', 'out/a.txt']);
    expect(text('a.txt')).toBe('old a');
  });

  test('overwrites only when told to, and through a link what it leads to', () => {
    mkdirSync(work.path('out'));
    mkdirSync(work.path('elsewhere'));
    writeFileSync(work.path('elsewhere', 'kept.txt'), 'old');
    symlinkSync(work.path('elsewhere', 'kept.txt'), work.path('out', 'a.txt'));
    const files = [{ name: 'a.txt', content: 'new' }];
    expect(() => writeOutputs(plan(), files)).toThrow(/a\.txt: found a file there already/);
    expect(readFileSync(work.path('elsewhere', 'kept.txt'), 'utf8')).toBe('old');
    writeOutputs(plan(true), files);
    expect(readFileSync(work.path('elsewhere', 'kept.txt'), 'utf8')).toBe('new');
    expect(readlinkSync(work.path('out', 'a.txt'))).toBe(work.path('elsewhere', 'kept.txt'));
    expect(work.list()).toEqual(['elsewhere', 'elsewhere/kept.txt', 'out', 'out/a.txt']);
  });

  test('leaves a file behind a link alone where another cannot be written', () => {
    mkdirSync(work.path('out'));
    writeFileSync(work.path('kept.txt'), 'old');
    symlinkSync(work.path('kept.txt'), work.path('out', 'a.txt'));
    const sabotage = {
      name: 'b.txt',
      get content(): string {
        throw Object.assign(new Error('no space left'), { code: 'ENOSPC' });
      },
    };
    expect(() => writeOutputs(plan(true), [{ name: 'a.txt', content: 'new' }, sabotage])).toThrow(
      /nothing was left there/,
    );
    expect(readFileSync(work.path('kept.txt'), 'utf8')).toBe('old');
    expect(work.list()).toEqual(['kept.txt', 'out', 'out/a.txt']);
  });

  test('an interrupt in the middle of writing leaves the whole set', () => {
    const module = new URL('../../../dist/cli/io/writeOutputs.js', import.meta.url).href;
    const script = `
      const { writeOutputs } = await import(${JSON.stringify(module)});
      const interrupt = { name: 'b.txt', get content() { process.kill(process.pid, 'SIGINT'); return 'b'; } };
      writeOutputs({ folder: ${JSON.stringify(work.path('out'))}, overwrite: false, inputs: [] },
        [{ name: 'a.txt', content: 'a' }, interrupt, { name: 'c.txt', content: 'c' }]);`;
    spawnSync(process.execPath, ['--input-type=module', '-e', script]);
    expect(work.list()).toEqual(['out', 'out/a.txt', 'out/b.txt', 'out/c.txt']);
  });

  test('refuses an empty name for the folder', () => {
    expect(() => writeOutputs({ ...plan(), folder: '' }, [])).toThrow('--out: found an empty name');
  });

  test('takes a dangling link for something that is there', () => {
    mkdirSync(work.path('out'));
    symlinkSync(work.path('nowhere'), work.path('out', 'a.txt'));
    expect(() => writeOutputs(plan(), [{ name: 'a.txt', content: 'a' }])).toThrow(InputError);
    writeOutputs(plan(true), [{ name: 'a.txt', content: 'a' }]);
    expect(work.list()).toEqual(['out', 'out/a.txt']);
  });

  test('refuses a folder in the place of a file, even by force', () => {
    mkdirSync(work.path('out', 'a.txt'), { recursive: true });
    expect(() => writeOutputs(plan(true), [{ name: 'a.txt', content: 'a' }])).toThrow(/found a folder/);
  });

  test.skipIf(process.platform === 'win32')(
    'nor what is no file: a pipe, a device, a link to a folder',
    () => {
      mkdirSync(work.path('out', 'folder'), { recursive: true });
      execFileSync('mkfifo', [work.path('out', 'pipe')]);
      symlinkSync('/dev/null', work.path('out', 'device'));
      symlinkSync(work.path('out', 'folder'), work.path('out', 'link'));
      const before = work.list();
      for (const [name, words] of [
        ['pipe', 'a named pipe'],
        ['device', 'a device'],
        ['link', 'a folder'],
      ] as const) {
        expect(() => writeOutputs(plan(true), [{ name, content: 'a' }])).toThrow(
          `${work.path('out', name)}: found ${words}, expected a file or nothing there`,
        );
      }
      expect(work.list()).toEqual(before);
      const inside = { ...plan(), folder: work.path('out', 'device') };
      expect(() => writeOutputs(inside, [{ name: 'a.txt', content: 'a' }])).toThrow(
        'out/device is a device, expected a folder',
      );
    },
  );

  test('replaces a link in a circle by force, as one that leads nowhere', () => {
    mkdirSync(work.path('out'));
    symlinkSync(work.path('out', 'a.txt'), work.path('out', 'a.txt'));
    writeOutputs(plan(true), [{ name: 'a.txt', content: 'a' }]);
    expect(text('a.txt')).toBe('a');
  });

  test('never overwrites an input, even by force or through a link', () => {
    mkdirSync(work.path('out'));
    writeFileSync(work.path('out', 'a.txt'), 'measured');
    symlinkSync(work.path('out', 'a.txt'), work.path('link.txt'));
    expect(() =>
      writeOutputs(plan(true, [work.path('link.txt')]), [{ name: 'a.txt', content: 'a' }]),
    ).toThrow(/found an input of this command/);
    expect(text('a.txt')).toBe('measured');
  });
});
