import type { Project } from './project.js';
import type { ProjectStore } from './projectStore.js';
import { GaveWay } from './transactions.js';

export type SaveState =
  | { readonly kind: 'saving' }
  /** `asCopy`: another window had changed the project, so it is kept under this new id and name from now on. */
  | {
      readonly kind: 'saved';
      readonly id: string;
      readonly name: string;
      readonly atMs: number;
      readonly asCopy: boolean;
    }
  /** In words for the user; the next change tries again. */
  | { readonly kind: 'failed'; readonly message: string };

export interface AutosaveOptions {
  readonly onState?: (state: SaveState) => void;
  /** Quiet time after a change, 400 ms. */
  readonly delayMs?: number;
  /** While changes keep coming, a save at least this often, 2000 ms. */
  readonly longestDelayMs?: number;
  /** Where `pagehide` and `visibilitychange` are heard; `document` and `window` unless given. */
  readonly page?: {
    readonly window: EventTarget;
    readonly document: EventTarget & { readonly hidden: boolean };
  };
}

export interface Autosave {
  /** The id that the project is saved under by now. */
  readonly id: () => string;
  /** Tells of the newest state; returns at once. */
  readonly changed: (project: Project) => void;
  /** Saves what is not saved yet; resolves when it is done or has failed. */
  readonly flush: () => Promise<void>;
  /** Flushes and listens no longer. */
  readonly stop: () => Promise<void>;
}

/**
 * Saves a project a moment after every change, one save at a time, and at once when the page is hidden or goes away.
 * Never throws: failures are told by `onState`.
 */
export function autosave(store: ProjectStore, firstId: string, options: AutosaveOptions = {}): Autosave {
  const { onState = () => {}, delayMs = 400, longestDelayMs = 2000 } = options;
  const page = options.page ?? { window, document };
  let id = firstId;
  let unsaved: Project | undefined;
  /** What a save under way is writing. */
  let inHand: Project | undefined;
  let unsavedSinceMs = 0;
  let timer: ReturnType<typeof setTimeout> | undefined;
  let running: Promise<void> | undefined;

  async function save(): Promise<void> {
    const project = unsaved;
    if (project === undefined) return;
    unsaved = undefined;
    inHand = project;
    onState({ kind: 'saving' });
    try {
      const { head, asCopy } = await store.saveProject(id, project);
      id = head.id;
      onState({ kind: 'saved', id, name: head.name, atMs: head.savedAtMs, asCopy });
    } catch (error) {
      // Kept, so that the next change, a flush or the page's end tries once more.
      unsaved ??= project;
      // The flush that follows last words saves it.
      if (error instanceof GaveWay) return;
      onState({ kind: 'failed', message: error instanceof Error ? error.message : String(error) });
    } finally {
      inHand = undefined;
    }
  }

  function flush(): Promise<void> {
    clearTimeout(timer);
    timer = undefined;
    running = (running ?? Promise.resolve()).then(save);
    return running;
  }

  function changed(project: Project): void {
    const nowMs = Date.now();
    if (unsaved === undefined) unsavedSinceMs = nowMs;
    unsaved = project;
    clearTimeout(timer);
    const waitMs = Math.min(delayMs, unsavedSinceMs + longestDelayMs - nowMs);
    timer = setTimeout(flush, Math.max(0, waitMs));
  }

  /** Written in haste first, since the page may not live to see the save's answer; then properly if it does. */
  function leave(): void {
    const project = unsaved ?? inHand;
    if (project === undefined) return;
    store.saveLastWords(id, project).catch(() => {});
    flush();
  }
  const hidden = () => {
    if (page.document.hidden) leave();
  };
  page.window.addEventListener('pagehide', leave);
  page.document.addEventListener('visibilitychange', hidden);

  return {
    id: () => id,
    changed,
    flush,
    stop: () => {
      page.window.removeEventListener('pagehide', leave);
      page.document.removeEventListener('visibilitychange', hidden);
      return flush();
    },
  };
}
