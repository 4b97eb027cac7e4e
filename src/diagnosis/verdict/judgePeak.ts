import { formatFrequency } from '../../units/formatFrequency.js';
import { reflectionShare } from '../evidence/reflectionEvidence.js';
import { tenths } from '../evidence/tenths.js';
import { clip } from '../features/clip.js';
import type { Feature } from '../features/detectFeatures.js';
import { isWorthMending } from '../scene/isWorthMending.js';
import type { Scene } from '../scene/scene.js';
import { guiltyPath, nearestMode, reflectionCause } from './causeOf.js';
import type { Cause, Finding } from './finding.js';
import { reflectionSentences } from './reflectionSentences.js';

/** Reflections that make this share of a peak and this much of it are its cause. */
const CAUSE_SHARE = 0.5;
const CAUSE_DB = 1;

/** Cause of a peak. It may be cut whatever makes it; one of the placement's goes when the speaker is moved. */
export function judgePeak(peak: Feature, scene: Scene): Finding {
  const share = reflectionShare(peak, scene);
  const guilty = share && guiltyPath(peak, share, scene);
  const mode = nearestMode(peak, scene);
  const heightDb = Math.max(0.5, scene.measured.localDb[peak.index]!);
  const explained = share ? clip(share.explainedDb / heightDb, 0, 1) : 0;
  const placed = share !== undefined && share.explainedDb >= CAUSE_DB && explained >= CAUSE_SHARE;
  const cause: Cause = mode
    ? { type: 'roomMode', predictedHz: mode.frequencyHz }
    : placed
      ? reflectionCause(peak, guilty, scene)
      : { type: share && explained < CAUSE_SHARE / 2 ? 'speaker' : 'unknown' };
  const { frequencyHz, levelDb, widthOctaves } = peak;
  const worth = isWorthMending(peak);
  const belongs =
    'It belongs to the placement: it may be cut, but measure again after the speaker or the listener has moved.';
  return {
    kind: 'peak',
    frequencyHz,
    levelDb,
    widthOctaves,
    verdict: worth ? 'equalize' : 'leave',
    cause,
    confidence: 0.6 + 0.3 * Math.abs(2 * explained - 1),
    evidence: [
      `${tenths(levelDb)} dB above the trend around it, ${widthOctaves.toFixed(2)} octave wide at half its height.`,
      ...(mode
        ? [
            `The room's ${mode.kind} mode ${mode.nx}-${mode.ny}-${mode.nz} lies at ${formatFrequency(mode.frequencyHz)}.`,
          ]
        : []),
      ...(placed && share ? reflectionSentences(peak, share, guilty, scene) : []),
      ...(mode || placed ? [belongs] : []),
    ],
  };
}
