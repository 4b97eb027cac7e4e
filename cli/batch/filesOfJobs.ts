import { resolve } from 'node:path';
import type { ManifestEntry } from '../../src/schema/batch.js';
import type { Flags } from '../readRequest.js';

/** Every path that jobs or the whole batch name as something to read, each once; names that are no files may be among them. */
export function filesOfJobs(
  entries: readonly ManifestEntry[],
  folder: string,
  { target, device, repeat }: Flags,
): string[] {
  const own = entries.flatMap(({ read }) =>
    'problem' in read
      ? []
      : [read.measurement, read.moved, read.repeat, read.setup, read.calibration, read.target, read.device]
          .flat()
          .flatMap((path) => (path === undefined ? [] : [resolve(folder, path)])),
  );
  const common = [target, device, repeat]
    .flat()
    .flatMap((path) => (path === undefined ? [] : [resolve(path)]));
  return [...new Set([...own, ...common])];
}
