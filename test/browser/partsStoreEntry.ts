import type { Project } from '../../web/store/project.js';

export { autosave } from '../../web/store/autosave.js';
export { openProjectStore } from '../../web/store/projectStore.js';

/** A project with a file for each of `contents`. */
export function sample(name: string, contents: readonly string[]): Project {
  const files = contents.map((content, i) => ({
    name: `position-${i}.txt`,
    role: 'position' as const,
    encoding: 'text' as const,
    content,
  }));
  return { schemaVersion: 1, name, files, options: { bands: 5 }, overrules: [] };
}
