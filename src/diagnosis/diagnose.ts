import type { Warning } from '../warning.js';
import type { DiagnosisInput } from './scene/diagnosisInput.js';
import { findFeatures } from './scene/findFeatures.js';
import { describeScene } from './scene/scene.js';
import { speakerNotes } from './scene/speakerNotes.js';
import type { Finding } from './verdict/finding.js';
import { geometryWarnings } from './verdict/geometryWarnings.js';
import { judgeDip } from './verdict/judgeDip.js';
import { judgePeak } from './verdict/judgePeak.js';
import { oneNullEach } from './verdict/oneNullEach.js';
import { type ProtectedSpan, protectedZones } from './verdict/protectedZones.js';

export interface Diagnosis {
  /** Ascending in frequency. */
  readonly findings: readonly Finding[];
  readonly warnings: readonly Warning[];
  /** What the curve says of the speaker as a whole, one sentence each. */
  readonly notes: readonly string[];
  /** Spans of the dips that the EQ does not mend, ascending and apart. */
  readonly zones: readonly ProtectedSpan[];
}

/**
 * What is wrong with a curve, why, and what to do about it.
 *
 * The box's fall is taken out, reflected paths are fitted to the whole curve at once, and each peak and dip is weighed
 * by all that is known of it; see `weights.ts` for how much each kind of evidence counts.
 */
export function diagnose(input: DiagnosisInput): Diagnosis {
  const scene = describeScene(input);
  const features = findFeatures(scene);
  const dips = oneNullEach(
    features.filter(({ kind }) => kind === 'dip'),
    (dip, taken) => judgeDip(dip, scene, taken),
  );
  const findings = features.map((feature) => dips.get(feature) ?? judgePeak(feature, scene));
  return {
    findings,
    warnings: geometryWarnings(scene),
    notes: speakerNotes(scene),
    zones: protectedZones(findings),
  };
}
