import { execFile } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, symlinkSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import type { RunWords } from './runPage.js';

/** A folder in which the commands of the pages run as in the project's root, and leave nothing there. */
export function exampleFolder(root: string) {
  const folder = mkdtempSync(join(tmpdir(), 'nullwise-pages-'));
  for (const name of ['fixtures', 'dist']) symlinkSync(join(root, name), join(folder, name), 'junction');
  return { folder, remove: () => rmSync(folder, { recursive: true, force: true }) };
}

/**
 * Runs the kinds of commands that the pages have; anything else is a mistake in a page.
 *
 * @param nullwise runs the program with these arguments
 */
export function pageRunner(folder: string, nullwise: (args: readonly string[]) => Promise<string>): RunWords {
  return async (words) => {
    const line = words.join(' ');
    if (line.startsWith('npx --no-install nullwise ')) return nullwise(words.slice(3));
    if (words[0] === 'mkdir' && words[1] === '-p') {
      for (const path of words.slice(2)) mkdirSync(join(folder, path), { recursive: true });
      return '';
    }
    if (words[0] === 'node' && words[1]?.startsWith('dist/fixtures/')) {
      const { stdout } = await promisify(execFile)(process.execPath, words.slice(1), { cwd: folder });
      return stdout;
    }
    throw new Error(`a page has the command "${line}", which is not known how to run`);
  };
}
