import { computed, signal } from '@preact/signals';
import { demoProject } from '../demo.js';
import { type History, redoLabel, startHistory, undoLabel } from '../store/history.js';
import type { Project } from '../store/project.js';

/** A project that has no name of its own yet is called after its files. */
export const UNTITLED = 'Untitled worksheet';

export const history = signal<History<Project>>(startHistory(demoProject));

export const project = computed(() => history.value.present);
export const canUndo = computed(() => undoLabel(history.value));
export const canRedo = computed(() => redoLabel(history.value));

/** Counts the worksheets that were opened: what is half typed into one says nothing of the next. */
export const worksheet = signal(0);

/** Replaces the present without a step of its own. */
export function amend(next: Project): void {
  history.value = { ...history.value, present: next };
}

/** The project has come to be kept under another name. */
export function renamed(name: string): void {
  amend({ ...project.value, name });
}
