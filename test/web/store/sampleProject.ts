import type { Project } from '../../../web/store/project.js';

/** A project with something in every part; simulated. */
export function sampleProject(): Project {
  return {
    schemaVersion: 1,
    name: 'Desk, simulated',
    files: [
      { name: 'left.txt', role: 'position', encoding: 'text', content: '20 80.1\n40 81.5\n' },
      { name: 'room.json', role: 'setup', encoding: 'text', content: '{"microphoneDistance": "1 m"}' },
      { name: 'sweep.wav', role: 'after', encoding: 'base64', content: 'UklGRg==' },
    ],
    options: {
      target: {
        breakpoints: [
          { frequency: 100, level: 3 },
          { frequency: 1000, level: 0 },
        ],
      },
      bands: 6,
      from: 60,
    },
    overrules: [{ frequencyHz: 297, verdict: 'leave', note: 'only at this seat' }],
    filters: [
      { filter: { type: 'peaking', frequencyHz: 61.2, gainDb: -5.3, q: 3.1 }, locked: true, on: true },
      { filter: { type: 'lowShelf', frequencyHz: 120, gainDb: 2, q: 0.71 }, locked: false, on: false },
    ],
  };
}
