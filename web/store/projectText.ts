import type { Project } from './project.js';

/** A project as the text of its file; `parseProject` gives it back. The same project gives the same text. */
export function projectText(project: Project): string {
  const { schemaVersion, name, files, options, overrules, filters, refit, whatIf, mask } = project;
  return `${JSON.stringify({ schemaVersion, name, files, options, overrules, filters, refit, whatIf, mask }, null, 2)}\n`;
}
