import type { LastWords, ProjectHead } from './projectRecords.js';

/** Last words with all that they need to be read alone. */
export interface SpokenWords extends LastWords {
  readonly head: ProjectHead;
  /** By content key: those that the storage does not hold. */
  readonly contents: Readonly<Record<string, string>>;
}

export interface LastWordsKept {
  /** False where they are too long, or the browser keeps nothing. */
  readonly say: (words: SpokenWords) => boolean;
  readonly of: (id: string) => SpokenWords | undefined;
  readonly heads: () => ProjectHead[];
  readonly forget: (id: string) => void;
}

/**
 * Last words in the browser's synchronous storage. A page that goes away has its transactions taken back now and then,
 * however early they were committed; what it has put here stays.
 */
export function openLastWords(databaseName: string): LastWordsKept {
  const prefix = `${databaseName} last words `;
  const read = (key: string) => parsed(kept(() => localStorage.getItem(key)));
  return {
    say: (words) =>
      kept(() => {
        localStorage.setItem(prefix + words.head.id, JSON.stringify(words));
        return true;
      }) ?? false,
    of: (id) => read(prefix + id),
    heads: () =>
      (kept(() => Object.keys(localStorage)) ?? [])
        .filter((key) => key.startsWith(prefix))
        .flatMap((key) => read(key)?.head ?? []),
    forget: (id) => kept(() => localStorage.removeItem(prefix + id)),
  };
}

function kept<T>(work: () => T): T | undefined {
  try {
    return work();
  } catch {
    return undefined;
  }
}

function parsed(text: string | null | undefined): SpokenWords | undefined {
  const words = kept(() => JSON.parse(text ?? 'null') as SpokenWords | null);
  return typeof words?.body === 'string' && Array.isArray(words.follows) && words.head ? words : undefined;
}
