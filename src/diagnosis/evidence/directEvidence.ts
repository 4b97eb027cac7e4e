import { pow2 } from '../../elementary/exponential.js';
import { formatFrequency } from '../../units/formatFrequency.js';
import { clip } from '../features/clip.js';
import { type Feature, signOf } from '../features/detectFeatures.js';
import type { Scene } from '../scene/scene.js';
import type { Evidence } from './evidence.js';

/** The gate shows a dip that is at least this many times as wide as what it resolves. */
const RESOLVED_WIDTHS = 1;
const SAME_PLACE_OCTAVES = 1 / 16;

/** The direct sound alone, gated ahead of the first reflection, is the speaker: a dip that it has is the speaker's. */
export function directEvidence(
  dip: Feature,
  { input, octave, measured, direct }: Scene,
): Evidence | undefined {
  if (!direct || !input.direct) return undefined;
  const widthHz = dip.frequencyHz * (pow2(dip.widthOctaves / 2) - pow2(-dip.widthOctaves / 2));
  if (widthHz < RESOLVED_WIDTHS * input.direct.resolvedFromHz) return undefined;
  if (dip.frequencyHz < 2 * input.direct.resolvedFromHz) return undefined;
  const sign = signOf(dip);
  const depthDb = Math.max(0.5, sign * measured.localDb[dip.index]!);
  let leftDb = 0;
  for (let i = 0; i < octave.length; i++) {
    if (Math.abs(octave[i]! - octave[dip.index]!) <= SAME_PLACE_OCTAVES)
      leftDb = Math.max(leftDb, sign * direct.localDb[i]!);
  }
  const remaining = clip(leftDb / depthDb, 0, 1);
  const at = formatFrequency(dip.frequencyHz);
  return {
    label: 'the direct sound alone',
    terms: [
      { name: 'notInDirect', value: clip((0.5 - remaining) / 0.3, 0, 1) },
      { name: 'inDirect', value: clip((remaining - 0.6) / 0.3, 0, 1) },
    ],
    sentence:
      remaining >= 0.6
        ? `The direct sound alone, before any reflection, has ${Math.round(100 * remaining)} % of it at ${at}: that part is the speaker's.`
        : `The direct sound alone, before any reflection, has ${Math.round(100 * remaining)} % of it at ${at}: the rest comes with the reflections.`,
  };
}
