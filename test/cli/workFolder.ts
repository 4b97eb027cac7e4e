import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** A folder of its own with these files in it. */
export function workFolder(files: Readonly<Record<string, string | Uint8Array>> = {}) {
  const folder = mkdtempSync(join(tmpdir(), 'nullwise-test-'));
  for (const [name, content] of Object.entries(files)) writeFileSync(join(folder, name), content);
  return {
    folder,
    path: (...names: string[]) => join(folder, ...names),
    /** Everything in it, at any depth. */
    list: () => (readdirSync(folder, { recursive: true }) as string[]).sort(),
    remove: () => rmSync(folder, { recursive: true, force: true }),
  };
}
