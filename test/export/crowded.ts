import type { Design } from '../../src/schema/design.js';
import { sampleDesign } from './sampleDesign.js';

/** The sample with peaks and dips so near to each other that their numbers would lie on one another. */
export function crowded(): Design {
  const design = sampleDesign();
  const more = [0.96, 1.04].flatMap((factor) =>
    design.findings.map((finding) => ({ ...finding, frequencyHz: finding.frequencyHz * factor })),
  );
  const findings = [...design.findings, ...more].sort((a, b) => a.frequencyHz - b.frequencyHz);
  return { ...design, findings };
}
