import type { Finding } from '../../diagnosis/verdict/finding.js';
import type { Design } from '../../schema/design.js';
import { markLevel } from './markLevel.js';
import { placeMarks } from './placeMarks.js';

/** How a plot draws the numbers of its findings, and where; all in its own units of length, y downwards. */
export interface FindingPlaces {
  readonly x: (hz: number) => number;
  readonly y: (db: number) => number;
  /** From the curve to the middle of a number. */
  readonly offset: number;
  /** Between the middles of two of them at least. */
  readonly apart: number;
  readonly top: number;
  readonly bottom: number;
}

/** Where the numbers of findings stand: over peaks and under dips, none of them on another. */
export function placeFindings(
  design: Design,
  findings: readonly { readonly finding: Finding }[],
  { x, y, offset, apart, top, bottom }: FindingPlaces,
): { x: number; y: number }[] {
  const wishes = findings.map(({ finding }) => {
    const at = { x: x(finding.frequencyHz), y: y(markLevel(design, finding)) };
    return finding.kind === 'peak'
      ? ({ ...at, y: at.y - offset, side: 'above' } as const)
      : ({ ...at, y: at.y + offset, side: 'below' } as const);
  });
  return placeMarks(wishes, apart, top, bottom);
}
