import type { Finding } from '../../src/diagnosis/verdict/finding.js';

/** What was said of a dip, and whether it is the speaker's own. */
export interface Call {
  readonly own: boolean;
  readonly finding: Finding;
}

/** Shallower dips are not worth a call, in dB. */
export const WORTH_DB = 1.2;

/** Share and number, for a table. */
export const percent = (calls: readonly Call[], of: (call: Call) => boolean): string =>
  calls.length === 0
    ? '   - (0)'
    : `${((100 * calls.filter(of).length) / calls.length).toFixed(0).padStart(4)} (${calls.length})`;

export const isSpeakers = ({ finding }: Call): boolean => finding.cause.type === 'speaker';
