import { resolve } from 'node:path';
import type { ManifestEntry } from '../../src/schema/batch.js';
import { type Flags, inputPaths } from '../readRequest.js';

/** Every path that jobs or the whole batch name as something to read, each once; names that are no files may be among them. */
export function filesOfJobs(entries: readonly ManifestEntry[], folder: string, common: Flags): string[] {
  const own = entries.flatMap(({ read }) => {
    if ('problem' in read) return [];
    const { measurement, moved = [], repeat = [], ...rest } = read;
    return inputPaths([measurement, moved, repeat].flat(), rest as Flags).map((path) =>
      resolve(folder, path),
    );
  });
  return [...new Set([...own, ...inputPaths([], common).map((path) => resolve(path))])];
}
