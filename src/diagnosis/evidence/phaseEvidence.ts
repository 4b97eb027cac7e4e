import { upperMedian } from '../../elementary/upperMedian.js';
import { clip } from '../features/clip.js';
import type { Feature } from '../features/detectFeatures.js';
import type { Scene } from '../scene/scene.js';
import type { Evidence } from './evidence.js';

const AT_OCTAVES = 1 / 12;
const AROUND_OCTAVES = 1;
/** Excess group delay in periods of its frequency from which it counts, and at which it counts in full. */
const SOME = 0.7;
const STRONG = 2;

/**
 * Excess group delay at a dip against that around it, in periods. One reflection weaker than the direct sound is
 * minimum phase, so its absence proves nothing; its presence shows a sum in which later sound outweighs the first.
 */
export function phaseEvidence(dip: Feature, { input, octave, frequencyHz }: Scene): Evidence | undefined {
  const delay = input.excessGroupDelayS;
  if (!delay) return undefined;
  const within = (reach: number) =>
    Array.from(delay.keys()).filter((i) => Math.abs(octave[i]! - octave[dip.index]!) <= reach);
  const usual = upperMedian(within(AROUND_OCTAVES).map((i) => delay[i]!));
  let periods = 0;
  for (const i of within(AT_OCTAVES)) {
    periods = Math.max(periods, Math.abs(delay[i]! - usual) * frequencyHz[i]!);
  }
  const strong = periods > SOME;
  return {
    label: 'the phase',
    terms: [{ name: 'excessDelay', value: clip((periods - SOME) / (STRONG - SOME), 0, 1) }],
    sentence: strong
      ? `Excess group delay of ${((1000 * periods) / dip.frequencyHz).toFixed(1)} ms (${periods.toFixed(2)} periods) at the dip: it is not minimum phase here. Later sound has a part in it, and that part no EQ can undo.`
      : 'It is minimum phase as far as measured; one weak reflection is that too, so this alone clears nobody.',
  };
}
