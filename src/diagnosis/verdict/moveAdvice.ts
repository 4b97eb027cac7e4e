import { formatFrequency } from '../../units/formatFrequency.js';
import { formatLength } from '../../units/formatLength.js';
import { fateOf } from '../evidence/movedEvidence.js';
import { stayedMaker } from '../evidence/stayedShare.js';
import type { Feature } from '../features/detectFeatures.js';
import type { Scene } from '../scene/scene.js';
import { CROSSOVER_IF_IT_STAYS, suitsCrossover } from '../speaker/crossoverNull.js';

/** A surface that the speaker was moved along is left by no less than this; by a half wave, in the bass. */
const LEAST_STEP_M = 0.1;
const MOST_STEP_M = 0.5;
/** Of waves longer than here 20 cm are less than a twentieth, and change too little to be seen. */
const LONG_WAVES_HZ = 80;

/**
 * What to measure or to try next for a dip that no surface of the set-up is blamed for: it asks for another placement
 * only where none was measured, and goes on from what those that were measured have shown.
 */
export function moveAdvice(dip: Feature, scene: Scene, verdict: 'move' | 'leave'): string {
  const { spreadDb, setup } = scene.input;
  const fate = fateOf(dip, scene);
  const hint = suitsCrossover(dip) && fate !== 'gone' ? ` ${CROSSOVER_IF_IT_STAYS}` : '';
  const at = formatFrequency(dip.frequencyHz);
  const step = dip.frequencyHz < LONG_WAVES_HZ ? '30 to 50 cm' : '10 to 20 cm';
  if (fate === undefined) {
    const alike = spreadDb
      ? ', the microphone moving along (the microphone positions alone do not tell)'
      : '';
    const stays = hint ? '' : 'if it stays, the equalizer may mend it; ';
    return verdict === 'move'
      ? `Move the speaker or the microphone by ${step} and measure again: a cancellation moves with it.${hint}`
      : `Measure again with the speaker ${step} away from here${alike}: ${stays}if it moves, it belongs to the placement.${hint}`;
  }
  const places = scene.moved.length === 1 ? 'the other placement' : 'one of the other placements';
  if (fate === 'gone') {
    return `In ${places} it is gone from ${at}: choose the place by the whole curve there, or by a forecast of it, and measure at the one that stays.`;
  }
  const halfWaveM = scene.speedOfSoundMs / (2 * dip.frequencyHz);
  const onward = formatLength(
    Math.ceil(100 * Math.min(MOST_STEP_M, Math.max(LEAST_STEP_M, halfWaveM))) / 100,
    setup?.lengthUnit ?? 'cm',
  );
  const so =
    fate === 'stayed' && stayedMaker(dip, scene)
      ? 'It stayed with the comb of a reflection, so the speaker was moved along the surface that makes it'
      : fate === 'stayed'
        ? "It stayed when the speaker was moved, so it is the speaker's, or it is made by a surface that the speaker was moved along"
        : 'Moving the speaker changed it in part only, which does not tell whose it is';
  return `${so}: measure once more with the speaker ${onward} higher, or farther from what it stands on and near to, the microphone moving along.${hint}`;
}
