import { decides } from '../store/checkRoles.js';
import type { Project, ProjectFile } from '../store/project.js';

const fileIds = new WeakMap<ProjectFile, number>();
let filesSeen = 0;

/** Files are never changed, only replaced. */
function idOf(file: ProjectFile): number {
  const id = fileIds.get(file) ?? ++filesSeen;
  fileIds.set(file, id);
  return id;
}

/** What a design depends on, but for held filters; not what they are checked with. */
export function keyOf({
  files,
  options,
  overrules,
}: Pick<Project, 'files' | 'options' | 'overrules'>): string {
  const from = files.filter(decides);
  return JSON.stringify([from.map(idOf), options, overrules]);
}
