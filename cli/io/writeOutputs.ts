import {
  closeSync,
  copyFileSync,
  existsSync,
  fsyncSync,
  linkSync,
  lstatSync,
  mkdirSync,
  openSync,
  readdirSync,
  readlinkSync,
  renameSync,
  rmdirSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { basename, dirname, join, resolve } from 'node:path';
import { InputError } from '../../src/inputError.js';
import { checkOutput, type OutputPlan, realPath } from './outputFolder.js';

export interface OutputFile {
  readonly name: string;
  readonly content: string | Uint8Array;
}

/**
 * Leaves a whole set of files in a folder, or nothing: each is written under a temporary name and synced to the
 * disk, then all are renamed. What was done is undone where a step fails. Each file is the earlier one or the new
 * one at every moment, so that a run that is killed leaves no gap; its temporary files are cleared away by the next.
 * A link stays one: what it leads to is replaced; one that leads nowhere gives way to the file.
 *
 * @throws InputError where the files may not or cannot be written
 */
export function writeOutputs(plan: Omit<OutputPlan, 'names'>, files: readonly OutputFile[]): void {
  checkOutput({ ...plan, names: files.map(({ name }) => name) });
  undisturbed(() => writeAll(plan.folder, files));
}

function writeAll(folder: string, files: readonly OutputFile[]): void {
  const undo: (() => void)[] = [];
  const finish: (() => void)[] = [];
  try {
    makeFolder(folder, undo);
    clearLeftovers(
      folder,
      files.map(({ name }) => name),
    );
    const moves = files.map((file) => {
      const target = realPath(join(folder, file.name));
      const fresh = besides(target, 'new');
      undo.push(() => rmSync(fresh, { force: true }));
      writeSynced(fresh, file.content);
      return { fresh, target };
    });
    for (const { fresh, target } of moves) {
      const earlier = besides(target, 'old');
      if (keepBeside(target, earlier)) {
        undo.push(() => rmSync(earlier, { force: true }));
        finish.push(() => rmSync(earlier, { force: true }));
        renameSync(fresh, target);
        undo.push(() => renameSync(earlier, target));
      } else {
        renameSync(fresh, target);
        undo.push(() => rmSync(target, { force: true }));
      }
    }
  } catch (error) {
    for (const step of undo.reverse()) attempt(step);
    if (!(error as NodeJS.ErrnoException).code) throw error;
    throw new InputError(
      `${folder}: cannot be written (${(error as Error).message}); nothing was left there`,
    );
  }
  for (const step of finish) attempt(step);
  attempt(() => syncFolder(folder));
}

/** An interrupt that comes while files are being written waits until they all are, or none. */
function undisturbed(work: () => void): void {
  const signals = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const;
  const wait = () => {};
  for (const signal of signals) process.on(signal, wait);
  try {
    work();
  } finally {
    for (const signal of signals) process.off(signal, wait);
  }
}

/** Level by level, because Node's own recursive way never ends where a system refuses with "no such file". */
function makeFolder(folder: string, undo: (() => void)[]): void {
  const missing: string[] = [];
  for (let path = resolve(folder); !existsSync(path); path = dirname(path)) missing.unshift(path);
  for (const path of missing) {
    mkdirSync(path);
    undo.push(() => rmdirSync(path));
  }
}

/**
 * Gives what stands at `path` a second name, so that the first never lies empty.
 *
 * @returns whether anything stands there
 */
function keepBeside(path: string, beside: string): boolean {
  const stats = lstatSync(path, { throwIfNoEntry: false });
  if (!stats) return false;
  if (stats.isSymbolicLink()) {
    symlinkSync(readlinkSync(path), beside);
    return true;
  }
  try {
    linkSync(path, beside);
  } catch {
    // Some file systems know no second name.
    copyFileSync(path, beside);
  }
  return true;
}

/** What a run that was killed left beside these files. */
function clearLeftovers(folder: string, names: readonly string[]): void {
  const ours = new Set(names.filter((name) => basename(name) === name));
  for (const entry of readdirSync(folder)) {
    const [, name = '', pid = ''] = /^\.(.+)\.(\d+)\.(?:new|old)\.tmp$/s.exec(entry) ?? [];
    if (ours.has(name) && !runs(Number(pid))) attempt(() => rmSync(join(folder, entry), { force: true }));
  }
}

/** Whether another process has this id; this one has just begun, so a file by its own id is an earlier one's. */
function runs(pid: number): boolean {
  if (pid === process.pid) return false;
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
}

/** Hidden beside its target, so that the rename stays within one file system. */
function besides(target: string, kind: 'new' | 'old'): string {
  return join(dirname(target), `.${basename(target)}.${process.pid}.${kind}.tmp`);
}

function writeSynced(path: string, content: string | Uint8Array): void {
  const file = openSync(path, 'wx');
  try {
    writeFileSync(file, content);
    fsyncSync(file);
  } finally {
    closeSync(file);
  }
}

/** Makes the renames last through a power cut, where the system can. */
function syncFolder(folder: string): void {
  const handle = openSync(folder, 'r');
  try {
    fsyncSync(handle);
  } finally {
    closeSync(handle);
  }
}

/** A step that must not hide the error that led to it, or that the result does not depend on. */
function attempt(step: () => void): void {
  try {
    step();
  } catch {
    // Nothing more can be done about it here.
  }
}
