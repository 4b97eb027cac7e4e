import { signal } from '@preact/signals';
import { demoProject } from '../demo.js';
import { type Autosave, autosave, type SaveState } from '../store/autosave.js';
import type { Project } from '../store/project.js';
import type { ProjectHead } from '../store/projectRecords.js';
import { openProjectStore } from '../store/projectStore.js';
import { knownDesign, rememberDesign } from './knownDesign.js';
import { project, renamed, UNTITLED } from './present.js';
import { openProject } from './session.js';
import { fitted } from './shown.js';
import { notice, refused } from './told.js';

const LAST = 'nullwise-last';
const store = openProjectStore();
let saver: Autosave | undefined;

export const saveState = signal<SaveState | undefined>(undefined);
export const keptProjects = signal<readonly ProjectHead[]>([]);
export const keptId = signal<string | undefined>(undefined);

function remember(id: string | undefined): void {
  keptId.value = id;
  try {
    if (id === undefined) localStorage.removeItem(LAST);
    else localStorage.setItem(LAST, id);
  } catch {
    // Then the newest is opened the next time.
  }
}

function lastId(): string | undefined {
  try {
    return localStorage.getItem(LAST) ?? undefined;
  } catch {
    return undefined;
  }
}

export async function refreshList(): Promise<void> {
  try {
    keptProjects.value = await store.listProjects();
  } catch (error) {
    saveState.value = { kind: 'failed', message: error instanceof Error ? error.message : String(error) };
  }
}

function keepUnder(id: string): void {
  void saver?.stop();
  remember(id);
  saver = autosave(store, id, {
    onState: (state) => {
      saveState.value = state;
      if (state.kind !== 'saved') return;
      remember(state.id);
      if (state.asCopy) {
        renamed(state.name);
        notice.value = `Another window had changed this worksheet, so it is kept as “${state.name}”.`;
      }
      void refreshList();
    },
  });
}

function show(value: Project): void {
  const design = knownDesign(value);
  openProject(value, design);
}

/** Turns to another worksheet, of which nothing has been said yet. */
function turnTo(value: Project): void {
  notice.value = undefined;
  refused.value = [];
  show(value);
}

/** Opens what was last worked on, else the demo; from then on every change is kept. */
export async function startKeeping(): Promise<void> {
  await refreshList();
  const heads = keptProjects.value;
  const head = heads.find(({ id }) => id === lastId()) ?? heads[0];
  let opened: Project | undefined;
  if (head) {
    try {
      const loaded = await store.loadProject(head.id);
      opened = loaded.project;
      if (loaded.fallback)
        notice.value = `The last state could not be read, so the one before is shown: ${loaded.fallback}`;
    } catch (error) {
      notice.value = error instanceof Error ? error.message : String(error);
    }
  }
  keepUnder(opened && head ? head.id : store.newId());
  show(opened ?? demoProject);
  fitted.subscribe((design) => {
    if (design && design !== knownDesign(project.peek())) rememberDesign(project.peek(), design);
  });
  let first = true;
  project.subscribe((value) => {
    // Nothing is kept of a demo that nobody touched.
    if (!first && value !== demoProject && value !== opened) saver?.changed(value);
    first = false;
  });
}

/** Another project, kept under an id of its own; the present one stays kept. */
export async function openKept(value: Project): Promise<void> {
  await saver?.flush();
  keepUnder(store.newId());
  turnTo(value);
  saver?.changed(value);
}

export async function openFromList(id: string): Promise<void> {
  await saver?.flush();
  try {
    const { project: loaded, fallback } = await store.loadProject(id);
    keepUnder(id);
    turnTo(loaded);
    if (fallback) notice.value = `The last state could not be read, so the one before is shown: ${fallback}`;
  } catch (error) {
    notice.value = error instanceof Error ? error.message : String(error);
  }
}

export async function openEmpty(): Promise<void> {
  await openKept({ schemaVersion: 1, name: UNTITLED, files: [], options: {}, overrules: [] });
}

export async function openDemo(): Promise<void> {
  await openKept(demoProject);
}

export async function forget(id: string): Promise<void> {
  // What is still to be kept of it would bring it back.
  if (id === keptId.value) await saver?.flush();
  await store.removeProject(id);
  if (id === keptId.value) {
    keepUnder(store.newId());
    turnTo(demoProject);
  }
  await refreshList();
}
