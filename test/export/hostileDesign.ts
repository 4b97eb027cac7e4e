import type { Design } from '../../src/schema/design.js';
import { sampleDesign } from './sampleDesign.js';

/** What a hostile file could carry: markup, the end of a script, quotes, controls, terminal escapes, reversed text. */
export const HOSTILE =
  '<img src=x onerror="window.hit=1"></script><script>window.hit=1</script> & \'"` ]]> \u001b[31m\u0000\u202e\ud800\u2028end';

/** The sample design with `HOSTILE` in every text that comes from a file. */
export function hostileDesign(): Design {
  const design = sampleDesign();
  return {
    ...design,
    title: `simulated ${HOSTILE}`,
    target: HOSTILE,
    rangeExplanation: HOSTILE,
    findings: design.findings.map((finding) => ({
      ...finding,
      cause: { ...finding.cause, surface: HOSTILE },
      evidence: [HOSTILE],
      advice: HOSTILE,
    })),
    warnings: [{ code: HOSTILE, message: HOSTILE }],
    fit: { ...design.fit, stopReason: HOSTILE, limitsReached: [HOSTILE] },
  };
}
