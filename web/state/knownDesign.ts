import demoDesign from 'virtual:demo-design';
import type { Design } from '../../src/schema/design.js';
import { demoProject } from '../demo.js';
import type { Project } from '../store/project.js';

const KEY = 'nullwise-design';

/** A short name for what a project's design depends on; another build of the program may design otherwise. */
function nameOf({ files, options, overrules }: Project): string {
  // FNV-1a over two different starts: 64 bits, enough to tell one project from the last one.
  let a = 0x811c9dc5;
  let b = 0x1000193;
  const text = JSON.stringify([__BUILD__, files, options, overrules]);
  for (let i = 0; i < text.length; i++) {
    a = Math.imul(a ^ text.charCodeAt(i), 0x01000193);
    b = Math.imul(b ^ text.charCodeAt(i), 0x01000197);
  }
  return `${(a >>> 0).toString(36)}-${(b >>> 0).toString(36)}-${text.length}`;
}

/** The design of a project where it is known without work: the demo's, and the one last shown in this browser. */
export function knownDesign(project: Project): Design | undefined {
  const { files, options, overrules } = project;
  if (files === demoProject.files && options === demoProject.options && overrules.length === 0)
    return demoDesign;
  try {
    const kept = JSON.parse(localStorage.getItem(KEY) ?? 'null') as { name: string; design: Design } | null;
    return kept?.name === nameOf(project) ? kept.design : undefined;
  } catch {
    return undefined;
  }
}

/** Keeps a whole design for the next time that the page is opened. */
export function rememberDesign(project: Project, design: Design): void {
  try {
    localStorage.setItem(KEY, JSON.stringify({ name: nameOf(project), design }));
  } catch {
    // A private window, or no room: the design is worked out again.
  }
}
