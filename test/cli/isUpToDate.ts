import { existsSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';

/** Whether all that was built is there and newer than everything in `sources`, files and folders. */
export function isUpToDate(built: readonly string[], sources: readonly string[]): boolean {
  const oldest = Math.min(...built.map((path) => (existsSync(path) ? statSync(path).mtimeMs : 0)));
  return sources.every((path) => newest(path) < oldest);
}

function newest(path: string): number {
  if (!statSync(path).isDirectory()) return statSync(path).mtimeMs;
  return Math.max(
    0,
    ...readdirSync(path, { recursive: true, encoding: 'utf8' }).map(
      (name) => statSync(join(path, name)).mtimeMs,
    ),
  );
}
