import { promisifyRequest } from 'idb-keyval';
import { InputError } from '../../src/inputError.js';
import { checkProject, MAX_PROJECT_NAME, type Project, type ProjectFile } from './project.js';
import {
  bodyText,
  contentKeys,
  contentOf,
  contentRange,
  contentRecords,
  contentsOf,
  headRange,
  type LastWords,
  type ProjectHead,
  recordKey,
  withContents,
} from './projectRecords.js';
import { openLastWords, type SpokenWords } from './spokenWords.js';
import { openTransactions } from './transactions.js';

export interface LoadedProject {
  readonly project: Project;
  /** Present where the last version could not be read and one before took its place: why. */
  readonly fallback?: string;
}

export interface SavedProject {
  readonly head: ProjectHead;
  /** Another window had saved this project in between, so this one was saved as a project of its own. */
  readonly asCopy: boolean;
}

/** Projects kept in this browser. Every function rejects with a `StorageProblem` where the browser keeps nothing. */
export interface ProjectStore {
  /** An id for a project that was never saved. */
  readonly newId: () => string;
  /** Newest first. */
  readonly listProjects: () => Promise<ProjectHead[]>;
  /** Rejects with an InputError where there is no such project, or none of its versions can be read. */
  readonly loadProject: (id: string) => Promise<LoadedProject>;
  /** Written whole or not at all; the version before is kept. Rejects with GaveWay where last words went before. */
  readonly saveProject: (id: string, project: Project) => Promise<SavedProject>;
  /** For when the page goes away: all requests are made at once, without waiting for an answer. */
  readonly saveLastWords: (id: string, project: Project) => Promise<void>;
  readonly removeProject: (id: string) => Promise<void>;
}

/** What this window knows of a project in the storage. */
interface Known {
  readonly revision: string;
  readonly body: string;
  /** Keys of contents that are in the storage. */
  readonly contents: ReadonlySet<string>;
}

/** Revision of a project of which there are only last words. */
const NEVER_SAVED = 'never saved';

/**
 * Opens the projects of this browser (IndexedDB). Nothing is asked of the browser before a function is called.
 *
 * @param databaseName another one for tests
 */
export function openProjectStore(databaseName = 'nullwise'): ProjectStore {
  const lastWords = openLastWords(databaseName);
  const { inTransaction, inHaste } = openTransactions(databaseName, 'projects');
  const known = new Map<string, Known>();
  /** Revisions that saves under way will have. */
  const underWay = new Map<string, string>();
  const keys = new WeakMap<ProjectFile, string>();

  function keyOf(file: ProjectFile): string {
    const key = keys.get(file) ?? randomId();
    keys.set(file, key);
    return key;
  }

  /** The contents that are not in the storage yet. */
  function newContents(id: string, project: Project): [key: string, content: string][] {
    const present = known.get(id)?.contents;
    return project.files
      .map((file): [string, string] => [keyOf(file), file.content])
      .filter(([key]) => !present?.has(key));
  }

  /** Writes the contents that are not in the storage yet; gives the keys of all. */
  function putContents(store: IDBObjectStore, id: string, project: Project): Set<string> {
    const contents = new Set(known.get(id)?.contents);
    for (const [key, content] of newContents(id, project)) {
      for (const [place, piece] of contentRecords(id, key, content)) store.put(piece, place);
      contents.add(key);
    }
    return contents;
  }

  /** Undefined where another window has saved in between: then nothing is written. */
  async function replace(
    store: IDBObjectStore,
    head: ProjectHead,
    project: Project,
  ): Promise<Known | undefined> {
    const { id, revision } = head;
    const before = known.get(id);
    const present = await answer<ProjectHead | undefined>(store.get(recordKey('head', id)));
    if (present && before && present.revision !== before.revision) return undefined;
    const previous = before?.body ?? (await answer<string | undefined>(store.get(recordKey('body', id))));
    const body = bodyText(project, keyOf);
    putContents(store, id, project);
    store.put(head, recordKey('head', id));
    store.put(body, recordKey('body', id));
    if (previous !== undefined) store.put(previous, recordKey('previous', id));
    store.delete(recordKey('last', id));
    const contents = new Set([...contentKeys(body), ...contentKeys(previous ?? '')]);
    for (const key of await answer(store.getAllKeys(contentRange(id)))) {
      if (!contents.has(contentOf(key))) store.delete(key);
    }
    return { revision, body, contents };
  }

  async function saveProject(id: string, project: Project): Promise<SavedProject> {
    const head = headOf(id, project, randomId());
    underWay.set(id, head.revision);
    const saved = await inTransaction('readwrite', (store) => replace(store, head, project)).finally(() =>
      underWay.delete(id),
    );
    if (saved === undefined) {
      const name = `${project.name} (from another window)`.slice(0, MAX_PROJECT_NAME);
      return { ...(await saveProject(randomId(), { ...project, name })), asCopy: true };
    }
    known.set(id, saved);
    lastWords.forget(id);
    return { head, asCopy: false };
  }

  async function saveLastWords(id: string, project: Project): Promise<void> {
    const follows = [known.get(id)?.revision ?? NEVER_SAVED, underWay.get(id)].filter((r) => r !== undefined);
    const words: LastWords = { body: bodyText(project, keyOf), follows };
    const head = headOf(id, project, NEVER_SAVED);
    const contents = Object.fromEntries(newContents(id, project));
    if (lastWords.say({ ...words, head, contents })) return;
    await inHaste((store) => {
      putContents(store, id, project);
      store.put(words, recordKey('last', id));
      // Without a head a project that was never saved would not be found again.
      if (!known.has(id) && !underWay.has(id)) store.put(head, recordKey('head', id));
    });
  }

  async function loadProject(id: string): Promise<LoadedProject> {
    const stored = await inTransaction('readonly', (store) => readVersions(store, id));
    const { head, versions, contents } = withSpoken(stored, lastWords.of(id));
    if (!head) throw new InputError(`found no project with the id "${id}" in this browser`);
    const problems: string[] = [];
    for (const body of versions) {
      try {
        const project = checkProject(withContents(body, contents), `the project "${head.name}"`);
        const names = contentKeys(body);
        project.files.forEach((file, i) => {
          keys.set(file, names[i]!);
        });
        known.set(id, { revision: head.revision, body, contents: new Set(stored.contents.keys()) });
        return { project, ...(problems.length > 0 && { fallback: problems[0]! }) };
      } catch (error) {
        if (!(error instanceof InputError)) throw error;
        problems.push(error.message);
      }
    }
    throw new InputError(problems[0] ?? `found nothing of the project "${head.name}" but its name`);
  }

  async function listProjects(): Promise<ProjectHead[]> {
    const heads = await inTransaction('readonly', (store) =>
      answer<ProjectHead[]>(store.getAll(headRange())),
    );
    const present = new Set(heads.map(({ id }) => id));
    const spoken = lastWords.heads().filter(({ id }) => !present.has(id));
    return [...heads, ...spoken].sort((a, b) => b.savedAtMs - a.savedAtMs);
  }

  async function removeProject(id: string): Promise<void> {
    await inTransaction('readwrite', (store) => {
      for (const kind of ['head', 'body', 'previous', 'last'] as const) store.delete(recordKey(kind, id));
      store.delete(contentRange(id));
    });
    known.delete(id);
    lastWords.forget(id);
  }

  return { newId: randomId, listProjects, loadProject, saveProject, saveLastWords, removeProject };
}

function headOf(id: string, { name, files }: Project, revision: string): ProjectHead {
  const positions = files.filter(({ role }) => role === 'position');
  const [first, ...more] = positions.length > 0 ? positions : files.filter(({ role }) => role === 'promised');
  const about = first && `${first.name}${more.length > 0 ? ` and ${more.length} more` : ''}`;
  return { id, name, ...(about !== undefined && { about }), savedAtMs: Date.now(), revision };
}

interface Versions {
  readonly head?: ProjectHead | undefined;
  /** Newest first. */
  readonly versions: readonly string[];
  readonly contents: ReadonlyMap<string, string>;
}

async function readVersions(store: IDBObjectStore, id: string): Promise<Versions> {
  const get = <T>(kind: 'head' | 'body' | 'previous' | 'last') =>
    answer<T | undefined>(store.get(recordKey(kind, id)));
  const [head, body, previous, last, contentNames, contentTexts] = await Promise.all([
    get<ProjectHead>('head'),
    get<string>('body'),
    get<string>('previous'),
    get<LastWords>('last'),
    answer(store.getAllKeys(contentRange(id))),
    answer<string[]>(store.getAll(contentRange(id))),
  ]);
  const lastBody = head && last?.follows.includes(head.revision) ? last.body : undefined;
  return {
    head,
    versions: [lastBody, body, previous].filter((version) => version !== undefined),
    contents: contentsOf(contentNames, contentTexts),
  };
}

/** Last words that were kept apart put before what the storage holds, where nothing was saved after them. */
function withSpoken(stored: Versions, words: SpokenWords | undefined): Versions {
  const head = stored.head ?? words?.head;
  if (!words || !head || !words.follows.includes(head.revision)) return stored;
  return {
    head,
    versions: [words.body, ...stored.versions],
    contents: new Map([...stored.contents, ...Object.entries(words.contents)]),
  };
}

const answer = <T>(request: IDBRequest<T>): Promise<T> => promisifyRequest(request);

/** 96 random bits; `crypto.randomUUID` is missing in some browsers where a page was opened from disk. */
function randomId(): string {
  return Array.from(crypto.getRandomValues(new Uint32Array(3)), (word) => word.toString(36)).join('-');
}
