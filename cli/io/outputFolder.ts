import { accessSync, constants, lstatSync, realpathSync, type Stats, statSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { InputError } from '../../src/inputError.js';
import { kindOf } from './readInput.js';

/** A set of files that a command is about to leave in one folder. */
export interface OutputPlan {
  readonly folder: string;
  readonly names: readonly string[];
  readonly overwrite: boolean;
  /** Files the command reads; they are never overwritten. */
  readonly inputs: readonly string[];
  /** What the user wrote to have them there, for messages; `--out` and the folder where absent. */
  readonly asked?: string;
}

/**
 * Says before any work is done, and before anything is written, whether the files can be left there.
 *
 * @throws InputError where the folder cannot be made or written, or a file stands in the way
 */
export function checkOutput(plan: OutputPlan): void {
  checkFolder(plan.folder, plan.asked ?? `--out ${plan.folder}`);
  const paths = plan.names.map((name) => join(plan.folder, name));
  const inTheWay = paths.filter((path) => exists(path));
  // A device or a pipe would be replaced by a file of its name, for whoever uses it next.
  for (const path of inTheWay) {
    const stats = behindLinks(path);
    if (!stats || stats.isFile()) continue;
    throw new InputError(`${path}: found ${kindOf(stats)}, expected a file or nothing there`);
  }
  const inputs = new Set(plan.inputs.map(realPath));
  const read = inTheWay.filter((path) => inputs.has(realPath(path)));
  if (read.length > 0) {
    throw new InputError(`${read.join(', ')}: found an input of this command, expected an output elsewhere`);
  }
  if (inTheWay.length > 0 && !plan.overwrite) {
    throw new InputError(
      `${inTheWay.join(', ')}: found ${inTheWay.length === 1 ? 'a file' : 'files'} there already, expected none (--force overwrites)`,
    );
  }
}

/** What is there; undefined for a link that leads nowhere or in a circle. */
function behindLinks(path: string): Stats | undefined {
  try {
    return statSync(path);
  } catch {
    return undefined;
  }
}

/** The folder itself or, where it is yet to be made, the nearest one above it. */
function checkFolder(folder: string, asked: string): void {
  if (folder === '') throw new InputError('--out: found an empty name, expected a folder');
  let path = resolve(folder);
  while (!exists(path)) path = dirname(path);
  try {
    const stats = statSync(path);
    if (!stats.isDirectory()) {
      const kind = stats.isFile() ? 'a file' : kindOf(stats);
      throw new InputError(`${asked}: found that ${path} is ${kind}, expected a folder`);
    }
    accessSync(path, constants.W_OK | constants.X_OK);
  } catch (error) {
    if (error instanceof InputError) throw error;
    throw new InputError(
      `${asked}: cannot write in ${path} (${(error as Error).message}), expected a folder that this user may write in`,
    );
  }
}

/** Where links lead; the path itself where they lead nowhere. */
export function realPath(path: string): string {
  try {
    return realpathSync(path);
  } catch {
    return resolve(path);
  }
}

function exists(path: string): boolean {
  try {
    lstatSync(path);
    return true;
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === 'ENOENT' || code === 'ENOTDIR') return false;
    throw new InputError(`${path}: cannot be looked at (${(error as Error).message})`);
  }
}
