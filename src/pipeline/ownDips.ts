import type { Finding } from '../diagnosis/verdict/finding.js';

/** Whether a dip is the speaker's own: it is mended, or would be if it were no trifle. */
export function isOwnDip({ kind, verdict, cause, zone }: Finding): boolean {
  return kind === 'dip' && (verdict === 'equalize' || (cause.type === 'speaker' && zone === undefined));
}

/** How far from a dip, to either side, stands what mends it. */
export function mendedWithinOctaves({ widthOctaves }: Finding): number {
  return widthOctaves / 2 + 1 / 12;
}
