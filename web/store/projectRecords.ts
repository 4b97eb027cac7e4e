import type { Project, ProjectFile } from './project.js';

/**
 * How a project lies in the browser's storage. Under keys of its own:
 *
 *     ['head', id]            what a list of projects shows, and the revision
 *     ['body', id]            the project as JSON, its files named by content key
 *     ['previous', id]        the body before, for when the present one cannot be read
 *     ['last', id]            what was written in haste when the page went away, and onto which revision
 *     ['content', id, key, n] piece n of the content of one file
 *
 * So a save writes a few kilobytes, however large the files are. Contents lie in pieces, since a browser takes a small
 * value at once and fetches a large one later from the page, which may be gone by then.
 */
export type RecordKind = 'head' | 'body' | 'previous' | 'last' | 'content';

export interface ProjectHead {
  readonly id: string;
  readonly name: string;
  /** The measurements in it, or the saved design, in words; absent where there are none, and in what former versions kept. */
  readonly about?: string;
  readonly savedAtMs: number;
  /** Another one with every save; tells whether another window has saved in between. */
  readonly revision: string;
}

/** What is written when the page goes away. */
export interface LastWords {
  readonly body: string;
  /** Revisions that it may follow; where the head has another one, another window has saved since. */
  readonly follows: readonly string[];
}

export const recordKey = (kind: RecordKind, id: string): string[] => [kind, id];

/** Of one piece in UTF-16 code units: its bytes stay under the 64 KiB from where a browser puts values elsewhere. */
const PIECE_LENGTH = 30_000;

/** The records of one file's content. */
export function contentRecords(
  id: string,
  key: string,
  content: string,
): (readonly [key: (string | number)[], piece: string])[] {
  const pieces = Math.max(1, Math.ceil(content.length / PIECE_LENGTH));
  return Array.from({ length: pieces }, (_, n) => [
    ['content', id, key, n],
    content.slice(n * PIECE_LENGTH, (n + 1) * PIECE_LENGTH),
  ]);
}

/** The contents by their keys, from records in the order of the storage; undivided ones are of former versions. */
export function contentsOf(keys: readonly IDBValidKey[], pieces: readonly string[]): Map<string, string> {
  const found = new Map<string, string[]>();
  keys.forEach((key, i) => {
    const name = contentOf(key);
    const before = found.get(name);
    if (before) before.push(pieces[i]!);
    else found.set(name, [pieces[i]!]);
  });
  return new Map(Array.from(found, ([name, parts]) => [name, parts.join('')]));
}

/** The content key within the key of a record. */
export const contentOf = (key: IDBValidKey): string => (key as string[])[2]!;

/** All contents of one project: arrays sort after every text. */
export const contentRange = (id: string): IDBKeyRange =>
  IDBKeyRange.bound(['content', id], ['content', id, []]);

export const headRange = (): IDBKeyRange => IDBKeyRange.bound(['head'], ['head', []]);

/** The project as JSON with the content of its files left out. */
export function bodyText(project: Project, keyOf: (file: ProjectFile) => string): string {
  const files = project.files.map((file) => ({ ...file, content: keyOf(file) }));
  return JSON.stringify({ ...project, files });
}

/** The content keys that a body names; none where it cannot be read. */
export function contentKeys(body: string): string[] {
  const files = (parsed(body) as { readonly files?: unknown } | undefined)?.files;
  if (!Array.isArray(files)) return [];
  return files.flatMap((file: { readonly content?: unknown } | null) =>
    typeof file?.content === 'string' ? [file.content] : [],
  );
}

/** A body with the contents put back; a file whose content is missing has none, which the schema then refuses. */
export function withContents(body: string, contents: ReadonlyMap<string, string>): unknown {
  const project = parsed(body) as { readonly files?: unknown } | undefined;
  if (!Array.isArray(project?.files)) return project;
  const files = project.files.map((file: { readonly content: string }) => ({
    ...file,
    content: contents.get(file?.content),
  }));
  return { ...project, files };
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
