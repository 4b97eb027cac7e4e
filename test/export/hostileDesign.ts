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
    bound: { unavoidableRmsDb: 0.1, bandsPriceDb: 0.6, devicePriceDb: 0.1 },
    errorAgainstBands: {
      points: [2, 1, 0.8].map((rmsDb, bands) => ({ bands, rmsDb })),
      kneeBands: 1,
    },
    positions: {
      aim: 'mean',
      worstBeforeRmsDb: 2,
      worstAfterRmsDb: 1,
      each: [{ name: HOSTILE, beforeRmsDb: 2, afterRmsDb: 1 }],
    },
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
