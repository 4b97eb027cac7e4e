import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { existsSync, mkdirSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';
import type { Command } from 'commander';
import { afterAll, describe, expect, test } from 'vitest';
import { createProgram } from '../../cli/program.js';
import { wordsOf } from './commandLine.js';
import { exampleFiles } from './exampleFiles.js';
import { manyRuns } from './manyRuns.js';
import { program } from './nullwise.js';
import { workFolder } from './workFolder.js';

const EXAMPLE = /^ {2}nullwise (.+)$/gm;
const WRITTEN = ['--out', '--room', '--energy'];

const commands = createProgram().commands.map((command) => {
  const help = helpOf(command);
  return { name: command.name(), help, examples: [...help.matchAll(EXAMPLE)].map(([, line]) => line!) };
});
const examples = commands.flatMap((command) => command.examples);
const { given, made } = exampleFiles();

function helpOf(command: Command): string {
  let text = '';
  command.configureOutput({
    writeOut: (words) => {
      text += words;
    },
  });
  command.outputHelp();
  return text;
}

/** A folder with what an example needs, and with nothing that it is to write. */
function folderFor(args: readonly string[]) {
  const work = workFolder(given);
  const read = args.filter((_, i) => !WRITTEN.includes(args[i - 1] ?? ''));
  for (const word of read) {
    const [, name] = Object.keys(made).includes(word) ? [null, word] : (/^result\/(.*)$/.exec(word) ?? []);
    const content = made[name as keyof typeof made];
    if (content === undefined) continue;
    mkdirSync(dirname(work.path(word)), { recursive: true });
    writeFileSync(work.path(word), content);
  }
  return work;
}

test.each(commands)(
  '$name tells what goes in, what comes out, and how it is used',
  ({ name, help, examples }) => {
    expect(help).toMatch(/^In: /m);
    expect(help).toMatch(/^Out: /m);
    expect(examples.length).toBeGreaterThan(0);
    for (const example of examples) expect(example).toMatch(new RegExp(`^${name}\\b`));
  },
);

test('the help of the program names every command and an example of the main job', () => {
  const help = helpOf(createProgram());
  for (const { name } of commands) expect(help).toMatch(new RegExp(`^ {2}${name}\\b`, 'm'));
  const [first] = [...help.matchAll(EXAMPLE)];
  expect(first).toBeDefined();
});

describe('the examples of the help, run as they stand', () => {
  const fromTheTop = [...helpOf(createProgram()).matchAll(EXAMPLE)].map(([, line]) => line!);
  const all = [...new Set([...fromTheTop, ...examples])];
  const runs = manyRuns();
  afterAll(runs.end);

  test.each(all.filter((line) => !line.startsWith('web')))('%s', async (line) => {
    const args = wordsOf(line);
    const work = folderFor(args);
    try {
      const { code, stdout, stderr } = await runs.run(args, { cwd: work.folder });
      expect({ code, stderr: code === 0 ? '' : stderr }).toEqual({ code: 0, stderr: '' });
      for (const option of WRITTEN) {
        const at = args.indexOf(option);
        if (at >= 0) expect(existsSync(work.path(args[at + 1]!)), args[at + 1]).toBe(true);
      }
      if (args.includes('--json')) expect(() => JSON.parse(stdout)).not.toThrow();
      else if (!args.includes('--quiet') && !args.includes('--out')) expect(stdout).not.toBe('');
    } finally {
      work.remove();
    }
  });

  // Another program may hold the usual port, and no browser is to open.
  test.each(all.filter((line) => line.startsWith('web')))('%s', async (line) => {
    const child = spawn(process.execPath, [program, ...wordsOf(line), '--port', '0', '--no-open']);
    let said = '';
    child.stderr.on('data', (chunk) => {
      said += chunk;
    });
    const [first] = (await Promise.race([once(child.stdout, 'data'), once(child, 'exit')])) as [unknown];
    expect(String(first), said).toMatch(/http:\/\/127\.0\.0\.1:\d+\//);
    child.kill('SIGINT');
    expect((await once(child, 'exit'))[0]).toBe(0);
  });
});
