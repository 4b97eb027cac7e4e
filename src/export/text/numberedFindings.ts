import type { Finding, Verdict } from '../../diagnosis/verdict/finding.js';
import type { Design } from '../../schema/design.js';

export interface NumberedFinding {
  /** From 1; the same number in the drawing, the plot and the report's text. */
  readonly number: number;
  readonly finding: Finding;
}

const ORDER: readonly Verdict[] = ['move', 'equalize', 'leave'];

/** The findings in the order of what a reader can do about them: move, equalize, leave; each by frequency. */
export function numberedFindings(design: Pick<Design, 'findings'>): NumberedFinding[] {
  return ORDER.flatMap((verdict) =>
    design.findings
      .filter((finding) => finding.verdict === verdict)
      .sort((a, b) => a.frequencyHz - b.frequencyHz),
  ).map((finding, i) => ({ number: i + 1, finding }));
}
