import type { DiagnosisInput } from '../../src/diagnosis/scene/diagnosisInput.js';

/** What the diagnosis is given of a case, and what to call it. */
export type Method = readonly [name: string, restrict: (input: DiagnosisInput) => DiagnosisInput];

export const all: Method = ['all that is known', (input) => input];
export const geometry: Method = [
  'geometry',
  ({ curve, range, setup }) => ({ curve, range, ...(setup && { setup }) }),
];
export const alone: Method = ['curve alone', ({ curve, range }) => ({ curve, range })];
