import type { Project } from './project.js';

/** A project with nothing in it yet. */
export function emptyProject(name: string): Project {
  return { schemaVersion: 1, name, files: [], options: {}, overrules: [] };
}
