import moved from '../fixtures/demo/moved.txt?raw';
import moved4cm from '../fixtures/demo/moved-4-cm.txt?raw';
import options from '../fixtures/demo/options.json' with { type: 'json' };
import position1 from '../fixtures/demo/position-1.txt?raw';
import position2 from '../fixtures/demo/position-2.txt?raw';
import position3 from '../fixtures/demo/position-3.txt?raw';
import position4 from '../fixtures/demo/position-4.txt?raw';
import setup from '../fixtures/demo/setup.json?raw';
import type { FileRole, Project, ProjectFile } from './store/project.js';

const file = (name: string, role: FileRole, content: string): ProjectFile => ({
  name,
  role,
  encoding: 'text',
  content,
});

/** The simulated demo scenario, which a first visit shows worked out; as `nullwise demo` has it. */
export const demoProject: Project = {
  schemaVersion: 1,
  name: 'Demo: a small two-way speaker on a desk near the wall (simulated)',
  files: [
    file('position-1.txt', 'position', position1),
    file('position-2.txt', 'position', position2),
    file('position-3.txt', 'position', position3),
    file('position-4.txt', 'position', position4),
    file('moved-4-cm.txt', 'placement', moved4cm),
    file('moved.txt', 'placement', moved),
    file('setup.json', 'setup', setup),
  ],
  options,
  overrules: [],
};
