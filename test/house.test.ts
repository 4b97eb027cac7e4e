import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';

const ROOT = fileURLToPath(new URL('..', import.meta.url));

/**
 * What lies in a folder, from the ground up: a file imports from its own room and from lower floors, never from beside or
 * above. '*' stands for what has no line of its own.
 */
const FLOORS: Readonly<Record<string, readonly string[]>> = {
  '.': ['src', 'fixtures', 'cli web'],
  src: [
    'elementary inputError warning',
    'units',
    'curve filter',
    'acoustics impulse target fit',
    'measurement diagnosis device',
    'schema',
    'pipeline verify',
    'design whatIf',
    'export',
    'index',
  ],
  'src/impulse': ['samples', 'response', 'phase', 'sweep', 'arrivals', '*'],
  'src/fit': ['problem', 'bank', 'objective', 'kernel', 'refinement', 'search', 'finish', '*'],
  'src/diagnosis': ['features', 'speaker', 'paths', 'scene', 'evidence', 'verdict', '*'],
  'src/device': ['profile', 'stored', 'grid', '*'],
  'src/export': ['words', 'json remains', 'tables audio', 'coefficients text', 'plot', 'report', '*'],
};

const SOURCES = ['src', 'fixtures', 'cli', 'web'].flatMap((folder) => sourcesIn(folder));
const IMPORTS = new Map(SOURCES.map((path) => [path, importsOf(path)]));

function sourcesIn(folder: string): string[] {
  return readdirSync(join(ROOT, folder), { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) return sourcesIn(path);
    return /\.tsx?$/.test(entry.name) ? [path] : [];
  });
}

/** The files of ours that a file imports, types included. */
function importsOf(path: string): string[] {
  const text = readFileSync(join(ROOT, path), 'utf8');
  return [...text.matchAll(/(?:from |import |import\()'(\.[^']+)\.js'/g)].map(([, name]) =>
    relative(ROOT, resolve(ROOT, dirname(path), name!)),
  );
}

/** Which room of a folder a path lies in; undefined where it lies outside. */
function roomOf(folder: string, path: string): string | undefined {
  const inside = relative(folder, path);
  return inside.startsWith('..') ? undefined : inside.split('/')[0]!.replace(/\.tsx?$/, '');
}

function wrongWays(folder: string, floors: readonly string[]): string[] {
  const named = floors.flatMap((rooms) => rooms.split(' '));
  const floorOf = (room: string) =>
    floors.findIndex((rooms) => rooms.split(' ').includes(named.includes(room) ? room : '*'));
  return SOURCES.flatMap((path) => {
    const own = roomOf(folder, path);
    if (own === undefined) return [];
    if (floorOf(own) < 0) return [`${path} is on no floor`];
    return IMPORTS.get(path)!
      .filter((other) => {
        const room = roomOf(folder, other);
        const isOfThePlain = room !== undefined && !named.includes(room) && !named.includes(own);
        return room !== undefined && room !== own && !isOfThePlain && floorOf(room) >= floorOf(own);
      })
      .map((other) => `${path} imports ${other}`);
  });
}

/** The first circle of files that is met, each importing the next. */
function circle(): readonly string[] {
  const sourceOf = new Map(SOURCES.map((path) => [path.replace(/\.tsx?$/, ''), path]));
  const done = new Set<string>();
  const visit = (path: string, way: readonly string[]): readonly string[] => {
    if (way.includes(path)) return [...way.slice(way.indexOf(path)), path];
    if (done.has(path)) return [];
    for (const name of IMPORTS.get(path)!) {
      const other = sourceOf.get(name);
      const found = other === undefined ? [] : visit(other, [...way, path]);
      if (found.length > 0) return found;
    }
    done.add(path);
    return [];
  };
  for (const path of SOURCES) {
    const found = visit(path, []);
    if (found.length > 0) return found;
  }
  return [];
}

describe('the house', () => {
  test('is read whole', () => {
    expect(SOURCES.length).toBeGreaterThan(500);
    expect([...IMPORTS.values()].flat().length).toBeGreaterThan(2000);
  });

  test.each(Object.entries(FLOORS))('in %s no import leads to a room beside or above', (folder, floors) => {
    expect(wrongWays(folder, floors)).toEqual([]);
  });

  test('no files import each other in a circle', () => {
    expect(circle()).toEqual([]);
  });

  test('src/ knows nothing of Node', () => {
    const bySrc = SOURCES.filter((path) => path.startsWith('src/'));
    expect(
      bySrc.filter((path) => /from '(node:|fs|path|os)/.test(readFileSync(join(ROOT, path), 'utf8'))),
    ).toEqual([]);
  });
});
