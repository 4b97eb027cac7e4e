/**
 * Colours for level over its surroundings in steps of 3 dB, blue where sound is missing, orange where there is more;
 * told apart by the colour-blind, and the dips darker than the peaks in grey.
 */
const steps: readonly { readonly toDb: number; readonly color: string }[] = [
  { toDb: -10.5, color: '#053061' },
  { toDb: -7.5, color: '#2166ac' },
  { toDb: -4.5, color: '#4393c3' },
  { toDb: -1.5, color: '#a6cee3' },
  { toDb: 1.5, color: '#f7f7f5' },
  { toDb: 4.5, color: '#fddbb0' },
  { toDb: 7.5, color: '#f9b26a' },
  { toDb: Number.POSITIVE_INFINITY, color: '#e08214' },
];

export const heightColors: readonly string[] = steps.map(({ color }) => color);
/** Middle of each step, in dB. */
export const heightLabels: readonly string[] = ['-12', '-9', '-6', '-3', '0', '+3', '+6', '+9'];

export function heightStep(db: number): number {
  return steps.findIndex(({ toDb }) => db < toDb);
}
