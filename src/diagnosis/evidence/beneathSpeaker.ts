import type { Feature } from '../features/detectFeatures.js';
import type { Scene } from '../scene/scene.js';
import { fallDb } from '../speaker/rollOff.js';
import type { ReflectionShare } from './reflectionEvidence.js';

/**
 * So far down the box's fall the room's own sounds and the measurement's noise are as loud as the speaker, and look like
 * reflections to whatever reckons by shape. Set by hand on simulated rooms, half of them with noise of a recording: of 114 dips
 * from here down that no fitted reflection made half of, called a reflection with 96 %, 15 were one, and 23 of 103 by other seeds.
 */
const BENEATH_DB = 8;
const MADE_SHARE = 0.5;

/** By how many dB the box lets the level fall where a feature lies; 0 or above. */
function fallAtDb({ index }: Feature, { rollOff, frequencyHz }: Scene): number {
  return -(fallDb(rollOff, frequencyHz.subarray(index, index + 1))?.[0] ?? 0);
}

/** Whether a feature lies where the speaker hardly plays any more, and the reflections that explain the rest do not make it. */
export function beneathSpeaker(feature: Feature, scene: Scene, share: ReflectionShare | undefined): boolean {
  const heightDb = Math.abs(scene.measured.localDb[feature.index]!);
  return (
    fallAtDb(feature, scene) >= BENEATH_DB && (share?.explainedDb ?? 0) < MADE_SHARE * Math.max(0.5, heightDb)
  );
}

export function beneathSentence(feature: Feature, scene: Scene): string {
  return (
    `The speaker's own fall has taken ${Math.round(fallAtDb(feature, scene))} dB off here, so noise of the measurement and sounds of ` +
    'the house may make this, and the reflections that explain the rest of the curve do not: its cause is not told.'
  );
}

export const BENEATH_ADVICE =
  "Let the range begin where the speaker plays, or measure again with a longer sweep: what is noise is another dip then. An equalizer cannot lift a speaker's level here without the travel that it lacks.";
