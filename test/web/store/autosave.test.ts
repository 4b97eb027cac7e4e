import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { autosave, type SaveState } from '../../../web/store/autosave.js';
import { emptyProject } from '../../../web/store/emptyProject.js';
import type { Project } from '../../../web/store/project.js';
import type { ProjectStore, SavedProject } from '../../../web/store/projectStore.js';
import { StorageProblem } from '../../../web/store/storageProblem.js';

const version = (name: string): Project => emptyProject(name);

/** A store that notes what is saved; each save ends when `finish` is called, or at once. */
function noting({ slow = false } = {}) {
  const saves: string[] = [];
  const lastWords: string[] = [];
  const waiting: (() => void)[] = [];
  let fails = 0;
  let copies = 0;
  const store = {
    saveProject: async (id: string, project: Project): Promise<SavedProject> => {
      saves.push(`${id}: ${project.name}`);
      if (slow) await new Promise<void>((resolve) => waiting.push(resolve));
      if (fails-- > 0) throw new StorageProblem('no room');
      const asCopy = copies-- > 0;
      const head = { id: asCopy ? 'copy' : id, name: project.name, savedAtMs: Date.now(), revision: 'r' };
      return { head, asCopy };
    },
    saveLastWords: async (id: string, project: Project) => void lastWords.push(`${id}: ${project.name}`),
  } as unknown as ProjectStore;
  return {
    store,
    saves,
    lastWords,
    finish: () => waiting.shift()?.(),
    fail: () => {
      fails = 1;
    },
    copy: () => {
      copies = 1;
    },
  };
}

function fakePage() {
  const document = Object.assign(new EventTarget(), { hidden: false });
  return { window: new EventTarget(), document };
}

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

test('changes in quick succession become one save of the newest', async () => {
  const { store, saves } = noting();
  const saving = autosave(store, 'id', { page: fakePage() });
  for (const name of ['a', 'b', 'c']) {
    saving.changed(version(name));
    await vi.advanceTimersByTimeAsync(100);
  }
  expect(saves).toEqual([]);
  await vi.advanceTimersByTimeAsync(400);
  expect(saves).toEqual(['id: c']);
  await vi.advanceTimersByTimeAsync(5000);
  expect(saves).toHaveLength(1);
});

test('while changes never pause they are saved every two seconds', async () => {
  const { store, saves } = noting();
  const saving = autosave(store, 'id', { page: fakePage() });
  for (let i = 0; i < 60; i++) {
    saving.changed(version(String(i)));
    await vi.advanceTimersByTimeAsync(100);
  }
  expect(saves.length).toBeGreaterThanOrEqual(2);
  expect(saves.length).toBeLessThanOrEqual(3);
});

test('one save runs at a time, and what came meanwhile is saved after it', async () => {
  const { store, saves, finish } = noting({ slow: true });
  const saving = autosave(store, 'id', { page: fakePage() });
  saving.changed(version('a'));
  await vi.advanceTimersByTimeAsync(500);
  saving.changed(version('b'));
  await vi.advanceTimersByTimeAsync(5000);
  expect(saves).toEqual(['id: a']);
  finish();
  await vi.advanceTimersByTimeAsync(0);
  expect(saves).toEqual(['id: a', 'id: b']);
});

test('a failure is told in words and tried again with the next change or flush', async () => {
  const { store, saves, fail } = noting();
  const states: SaveState[] = [];
  const saving = autosave(store, 'id', { page: fakePage(), onState: (state) => states.push(state) });
  fail();
  saving.changed(version('a'));
  await saving.flush();
  expect(states.map(({ kind }) => kind)).toEqual(['saving', 'failed']);
  expect(states[1]).toMatchObject({ message: 'no room' });
  await saving.flush();
  expect(saves).toEqual(['id: a', 'id: a']);
  expect(states.at(-1)).toMatchObject({ kind: 'saved', id: 'id', name: 'a', asCopy: false });
});

test('after a save as a copy the copy is what is saved from then on', async () => {
  const { store, saves, copy } = noting();
  const saving = autosave(store, 'id', { page: fakePage() });
  copy();
  saving.changed(version('a'));
  await saving.flush();
  expect(saving.id()).toBe('copy');
  saving.changed(version('b'));
  await saving.flush();
  expect(saves).toEqual(['id: a', 'copy: b']);
});

test('when the page goes away, unsaved changes are written at once, those of a save under way too', async () => {
  const { store, lastWords, finish } = noting({ slow: true });
  const page = fakePage();
  const saving = autosave(store, 'id', { page });
  page.window.dispatchEvent(new Event('pagehide'));
  expect(lastWords).toEqual([]);
  saving.changed(version('a'));
  page.window.dispatchEvent(new Event('pagehide'));
  expect(lastWords).toEqual(['id: a']);
  await vi.advanceTimersByTimeAsync(0);
  page.document.dispatchEvent(new Event('visibilitychange'));
  expect(lastWords).toHaveLength(1);
  page.document.hidden = true;
  page.document.dispatchEvent(new Event('visibilitychange'));
  expect(lastWords).toEqual(['id: a', 'id: a']);
  finish();
  await vi.advanceTimersByTimeAsync(0);
  page.window.dispatchEvent(new Event('pagehide'));
  expect(lastWords).toHaveLength(2);
});

test('once stopped it listens no more', async () => {
  const { store, saves, lastWords } = noting();
  const page = fakePage();
  const saving = autosave(store, 'id', { page });
  saving.changed(version('a'));
  await saving.stop();
  expect(saves).toEqual(['id: a']);
  saving.changed(version('b'));
  page.window.dispatchEvent(new Event('pagehide'));
  expect(lastWords).toEqual([]);
});
