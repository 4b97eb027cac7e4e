import type { Finding } from '../../diagnosis/verdict/finding.js';
import { log2 } from '../../elementary/logarithm.js';
import type { Design } from '../../schema/design.js';

/** A mark stays clear of every curve within this distance to either side. */
const REACH_OCTAVES = 0.11;

/** The level beyond which a finding's mark hides no curve: above all of them at a peak, below all of them at a dip. */
export function markLevel(
  { curves, levelDb }: Pick<Design, 'curves' | 'levelDb'>,
  finding: Pick<Finding, 'kind' | 'frequencyHz'>,
): number {
  const levels = curves.frequencyHz.flatMap((hz, i) =>
    Math.abs(log2(hz / finding.frequencyHz)) <= REACH_OCTAVES
      ? [
          curves.measuredDb[i]!,
          curves.smoothedDb[i]!,
          curves.smoothedDb[i]! + curves.eqDb[i]!,
          curves.targetDb[i]!,
        ]
      : [],
  );
  if (levels.length === 0) return levelDb;
  return finding.kind === 'peak' ? Math.max(...levels) : Math.min(...levels);
}
