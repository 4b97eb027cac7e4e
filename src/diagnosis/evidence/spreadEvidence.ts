import { log2 } from '../../elementary/logarithm.js';
import { upperMedian } from '../../elementary/upperMedian.js';
import { formatFrequency } from '../../units/formatFrequency.js';
import { clip } from '../features/clip.js';
import type { Feature } from '../features/detectFeatures.js';
import type { Scene } from '../scene/scene.js';
import type { Evidence } from './evidence.js';

const AT_OCTAVES = 1 / 24;
const AROUND_OCTAVES = 1.5;
/** Positions that differ by less than this differ by noise. */
const QUIET_DB = 0.3;
/** From here on, and this many times the usual, the place decides. */
const WIDE_DB = 1.5;
const WIDE_TIMES = 2;

/** How far positions differ at each point within so many octaves of a feature. */
export function spreadsWithin(
  spreadDb: Float64Array,
  { index }: Feature,
  { octave }: Scene,
  reachOctaves: number,
): Float64Array {
  return spreadDb.filter((_, i) => Math.abs(octave[i]! - octave[index]!) <= reachOctaves);
}

/** Positions differ at a cancellation, since each has its own path difference, and agree about the speaker. */
export function spreadEvidence(dip: Feature, scene: Scene): Evidence | undefined {
  const { spreadDb } = scene.input;
  if (!spreadDb) return undefined;
  const within = (reach: number) => spreadsWithin(spreadDb, dip, scene, reach);
  const at = within(AT_OCTAVES);
  const here = at.reduce((sum, s) => sum + s, 0) / at.length;
  const usual = upperMedian(within(AROUND_OCTAVES));
  const ratio = Math.max(here, QUIET_DB) / Math.max(usual, QUIET_DB);
  const wide = here >= WIDE_DB ? clip(ratio / WIDE_TIMES, 0, 3) : 0;
  const says =
    wide >= 1
      ? `it depends on the place, as ${dip.kind === 'dip' ? 'cancellations do' : 'what reflections add does'}.`
      : ratio < 0.75
        ? "the positions agree, as they do on what is the speaker's."
        : 'that says little either way.';
  return {
    label: 'the microphone positions',
    terms: [
      { name: 'spread', value: clip(log2(ratio), -1.5, 2) },
      { name: 'wideSpread', value: wide >= 1 ? wide : 0 },
    ],
    sentence: `The positions differ by ${here.toFixed(1)} dB at ${formatFrequency(dip.frequencyHz)} and by ${usual.toFixed(1)} dB around: ${says}`,
  };
}
