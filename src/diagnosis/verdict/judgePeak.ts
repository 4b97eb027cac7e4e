import { formatFrequency } from '../../units/formatFrequency.js';
import { beneathSentence, beneathSpeaker } from '../evidence/beneathSpeaker.js';
import { reflectionShare } from '../evidence/reflectionEvidence.js';
import { tenths } from '../evidence/tenths.js';
import { clip } from '../features/clip.js';
import type { Feature } from '../features/detectFeatures.js';
import { isWorthMending } from '../scene/isWorthMending.js';
import type { Scene } from '../scene/scene.js';
import { guiltyPath, nearestMode, reflectionCause } from './causeOf.js';
import type { Cause, Finding } from './finding.js';
import { judgeOwnPeak } from './judgeOwnPeak.js';
import { reflectionSentences } from './reflectionSentences.js';

/** Reflections that make this share of a peak and this much of it are its cause. */
const CAUSE_SHARE = 0.5;
const CAUSE_DB = 1;
/** From this probability on the speaker is named, and down to one minus it a reflection. */
const NAMED_FROM = 0.6;
/** From this probability on that it is not the speaker's, and beside so many like it, later sound is named, though no one path of it can be. */
const LATER_SOUND_FROM = 0.8;
const COMPANY_FROM = 2;
/** Nor is anybody surer of that: noise makes such peaks too, and a few were the speaker's. Right in 77 % of 863. */
const SUREST_OF_LATER = 0.8;

/** Cause of a peak. It may be cut whatever makes it; one of the placement's goes when the speaker is moved. */
export function judgePeak(peak: Feature, scene: Scene): Finding {
  const share = reflectionShare(peak, scene);
  const guilty = share && guiltyPath(peak, share, scene);
  const mode = nearestMode(peak, scene);
  const heightDb = Math.max(0.5, scene.measured.localDb[peak.index]!);
  const explained = share ? clip(share.explainedDb / heightDb, 0, 1) : 0;
  const own = judgeOwnPeak(peak, scene, share, explained);
  // A mode stays where it is when the speaker is moved, and stands alone in the bass.
  const beneath = !mode && beneathSpeaker(peak, scene, share);
  const speakers = !mode && !beneath && own.probability >= NAMED_FROM;
  const notOwn = 1 - own.probability;
  const made = share !== undefined && share.explainedDb >= CAUSE_DB && explained >= CAUSE_SHARE;
  const placed = made && notOwn >= NAMED_FROM;
  const later = !beneath && !made && notOwn >= LATER_SOUND_FROM && own.alike >= COMPANY_FROM;
  const cause: Cause = speakers
    ? { type: 'speaker' }
    : mode
      ? { type: 'roomMode', predictedHz: mode.frequencyHz }
      : placed
        ? reflectionCause(peak, guilty, scene)
        : { type: later ? 'reflection' : 'unknown' };
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
    confidence: speakers
      ? own.probability
      : mode
        ? Math.max(NAMED_FROM, notOwn)
        : later
          ? Math.min(SUREST_OF_LATER, notOwn)
          : notOwn,
    evidence: [
      `${tenths(levelDb)} dB above the trend around it, ${widthOctaves.toFixed(2)} octave wide at half its height.`,
      ...(mode
        ? [
            `The room's ${mode.kind} mode ${mode.nx}-${mode.ny}-${mode.nz} lies at ${formatFrequency(mode.frequencyHz)}.`,
          ]
        : []),
      ...(beneath ? [beneathSentence(peak, scene)] : []),
      ...(made && share ? reflectionSentences(peak, share, guilty, scene) : []),
      ...own.sentences,
      ...(!speakers && (mode || placed || later) ? [belongs] : []),
    ],
  };
}
