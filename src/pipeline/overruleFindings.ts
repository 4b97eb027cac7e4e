import type { FrequencyRange } from '../curve/curve.js';
import type { Diagnosis } from '../diagnosis/diagnose.js';
import type { Finding, Verdict } from '../diagnosis/verdict/finding.js';
import { protectedZones } from '../diagnosis/verdict/protectedZones.js';
import { pow2 } from '../elementary/exponential.js';
import { log2 } from '../elementary/logarithm.js';

/** A verdict that the user gives by hand on what was found at a frequency. */
export interface Overrule {
  readonly frequencyHz: number;
  readonly verdict: Verdict;
  /** Why, in the user's words. */
  readonly note: string;
}

/** Findings drift a little from fit to fit; what lies farther off was never meant. */
const SAME_OCTAVES = 1 / 6;
/** A span that is left alone is at least this wide. */
const NARROWEST_ZONE_OCTAVES = 1 / 6;

/** The finding that an overruled verdict is about: the nearest within a sixth of an octave. */
export function overruledIndex(
  findings: readonly Pick<Finding, 'frequencyHz'>[],
  { frequencyHz }: Overrule,
): number {
  let nearest = -1;
  let least = SAME_OCTAVES;
  findings.forEach((finding, i) => {
    const octaves = Math.abs(log2(finding.frequencyHz / frequencyHz));
    if (octaves > least) return;
    least = octaves;
    nearest = i;
  });
  return nearest;
}

/**
 * The user's verdicts put in the place of the program's. What is to be moved or left by hand becomes a protected span;
 * what is to be mended by hand no longer is one.
 */
export function overruleFindings(diagnosis: Diagnosis, overrules: readonly Overrule[]): Diagnosis {
  if (overrules.length === 0) return diagnosis;
  const findings = [...diagnosis.findings];
  for (const overrule of overrules) {
    const at = overruledIndex(findings, overrule);
    if (at >= 0) findings[at] = overruled(findings[at]!, overrule);
  }
  return { ...diagnosis, findings, zones: protectedZones(findings) };
}

function overruled(finding: Finding, { verdict, note }: Overrule): Finding {
  const { zone, advice, ...rest } = finding;
  const why = note.trim();
  const kept = verdict === 'equalize' ? undefined : (zone ?? spanOf(finding));
  return {
    ...rest,
    verdict,
    evidence: [
      `The verdict was given by hand${why === '' ? '' : `: ${why}`} (without that it would be "${finding.verdict}").`,
      ...finding.evidence,
    ],
    ...(advice !== undefined && verdict === 'move' && { advice }),
    ...(kept && { zone: kept }),
  };
}

function spanOf({ frequencyHz, widthOctaves }: Finding): FrequencyRange {
  const half = Math.max(widthOctaves, NARROWEST_ZONE_OCTAVES) / 2;
  return { fromHz: frequencyHz * pow2(-half), toHz: frequencyHz * pow2(half) };
}
