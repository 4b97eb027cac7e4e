import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';

export interface InstalledPackage {
  readonly name: string;
  readonly version: string;
  /** As its package.json has it: an SPDX expression. */
  readonly licence: string | undefined;
  /** Who wrote it, as far as its package.json says. */
  readonly author: string | undefined;
  readonly bytes: number;
  readonly folder: string;
}

interface Manifest {
  readonly name: string;
  readonly version: string;
  readonly license?: unknown;
  readonly author?: string | { readonly name?: string };
  readonly dependencies?: Readonly<Record<string, string>>;
  readonly optionalDependencies?: Readonly<Record<string, string>>;
}

/**
 * Everything that is installed with a package because it needs it at run time, by name; the package itself is not
 * among it. What is optional and not installed is left out.
 */
export function installedPackages(root: string): InstalledPackage[] {
  const found = new Map<string, InstalledPackage>();
  const visit = (folder: string) => {
    const { dependencies = {}, optionalDependencies = {} } = manifestIn(folder);
    for (const name of Object.keys({ ...dependencies, ...optionalDependencies })) {
      const where = folderOf(name, folder);
      if (where === undefined) {
        if (name in optionalDependencies) continue;
        throw new Error(`${name}, which ${folder} needs, is not installed`);
      }
      if (found.has(where)) continue;
      const { version, license, author: by } = manifestIn(where);
      const author = typeof by === 'string' ? by : by?.name;
      const licence = typeof license === 'string' ? license : undefined;
      found.set(where, { name, version, licence, author, bytes: bytesIn(where), folder: where });
      visit(where);
    }
  };
  visit(root);
  return [...found.values()].sort((a, b) => (a.name < b.name ? -1 : a.name > b.name ? 1 : 0));
}

const PERMISSIVE = [
  '0BSD',
  'Apache-2.0',
  'BSD-2-Clause',
  'BSD-3-Clause',
  'BlueOak-1.0.0',
  'CC0-1.0',
  'ISC',
  'MIT',
  'Unlicense',
  'Zlib',
];

/** Whether a licence lets us use and pass on the code without asking the same of others. */
export function isPermissive(licence: string | undefined): boolean {
  if (licence === undefined) return false;
  return licence
    .replaceAll(/[()]/g, '')
    .split(' OR ')
    .some((choice) => choice.split(' AND ').every((one) => PERMISSIVE.includes(one.trim())));
}

/** As Node looks it up: in the nearest `node_modules` above. */
function folderOf(name: string, from: string): string | undefined {
  for (let folder = from; ; folder = dirname(folder)) {
    const candidate = join(folder, 'node_modules', name);
    if (existsSync(join(candidate, 'package.json'))) return candidate;
    if (dirname(folder) === folder) return undefined;
  }
}

function manifestIn(folder: string): Manifest {
  return JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8')) as Manifest;
}

/** Without what is nested below it, which counts for itself. */
function bytesIn(folder: string): number {
  return readdirSync(folder, { withFileTypes: true }).reduce((sum, entry) => {
    if (entry.name === 'node_modules') return sum;
    const path = join(folder, entry.name);
    return sum + (entry.isDirectory() ? bytesIn(path) : entry.isFile() ? statSync(path).size : 0);
  }, 0);
}
