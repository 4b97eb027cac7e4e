import { basename, dirname, sep } from 'node:path';
import { InputError } from '../src/inputError.js';
import { gather } from './gather.js';
import { checkOutput, type OutputPlan } from './io/outputFolder.js';
import { writeOutputs } from './io/writeOutputs.js';

type Terms = Pick<OutputPlan, 'overwrite' | 'inputs'>;

/** A file by the path that the user gave it. */
export interface FileToWrite {
  readonly path: string;
  readonly content: string | Uint8Array;
}

/** @throws InputError for a name that is none, or that of a folder */
export function checkFileName(path: string): void {
  if (path === '') throw new InputError('found an empty name, expected that of the file to write');
  if (path.endsWith('/') || path.endsWith(sep))
    throw new InputError(`${path}: found the name of a folder, expected that of the file to write`);
}

/** @throws InputError where one of the files may not or cannot be written */
export function checkFiles(paths: readonly string[], terms: Terms): void {
  paths.forEach(checkFileName);
  gather(
    byFolder(paths.map((path) => ({ path }))).map(([folder, files]) => () => {
      checkOutput({
        ...terms,
        folder,
        names: files.map(({ path }) => basename(path)),
        asked: askedOf(files),
      });
    }),
  );
}

/** Writes the files of each folder all or none. */
export function writeFiles(files: readonly FileToWrite[], terms: Terms): void {
  for (const [folder, each] of byFolder(files)) {
    writeOutputs(
      { ...terms, folder, asked: askedOf(each) },
      each.map(({ path, content }) => ({ name: basename(path), content })),
    );
  }
}

const askedOf = (files: readonly { readonly path: string }[]) => files.map(({ path }) => path).join(', ');

function byFolder<T extends { readonly path: string }>(files: readonly T[]): [string, T[]][] {
  const folders = new Map<string, T[]>();
  for (const file of files) {
    const folder = dirname(file.path);
    folders.set(folder, [...(folders.get(folder) ?? []), file]);
  }
  return [...folders];
}
