import type { FileRole, ProjectFile } from '../store/project.js';

/** What a file can be, as the sheet says it. */
export const ROLES: readonly (readonly [FileRole, string])[] = [
  ['position', 'Measured here'],
  ['repeat', 'First position, repeated'],
  ['placement', 'Same speaker, other place'],
  ['calibration', 'Microphone calibration'],
  ['setup', 'Where things stood'],
  ['device', 'The equalizer'],
  ['after', 'Measured with the filters in'],
  ['before', 'Without filters, to compare'],
  ['other', 'The other speaker'],
  ['promised', 'A saved design, to check'],
];

export const roleWords = (role: FileRole) => ROLES.find(([each]) => each === role)![1];

const MEASUREMENTS: readonly FileRole[] = ['position', 'repeat', 'placement', 'after', 'before', 'other'];

/** Bytes that are taken for a measurement are a WAV file: all else is text. */
export const isImpulseResponse = ({ role, encoding }: ProjectFile) =>
  encoding === 'base64' && MEASUREMENTS.includes(role);
