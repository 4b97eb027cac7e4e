import { statSync } from 'node:fs';
import type { ManifestEntry } from '../../src/schema/batch.js';
import type { Flags } from '../readRequest.js';
import { filesOfJobs } from './filesOfJobs.js';

/** When a file was last written, in milliseconds; undefined where there is none. */
export const writtenMs = (path: string): number | undefined =>
  statSync(path, { throwIfNoEntry: false })?.mtimeMs;

/**
 * Which jobs read a file that was written after the results were, so that these no longer tell of it.
 *
 * @param resultsMs when the results were last written
 */
export function changedSince(
  resultsMs: number,
  folder: string,
  common: Flags,
): (entry: ManifestEntry) => boolean {
  const known = new Map<string, boolean>();
  const isNewer = (path: string): boolean => {
    const before = known.get(path);
    if (before !== undefined) return before;
    const newer = (writtenMs(path) ?? 0) > resultsMs;
    known.set(path, newer);
    return newer;
  };
  return (entry) => filesOfJobs([entry], folder, common).some(isNewer);
}
