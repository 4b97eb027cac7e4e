import { clip } from './clip.js';
import type { Feature } from './detectFeatures.js';
import type { Evidence } from './evidence.js';
import type { Scene } from './scene.js';

const AT_OCTAVES = 1 / 12;
const AROUND_OCTAVES = 1;

/** Positions differ at a cancellation, since each has its own path difference, and agree about the speaker. */
export function spreadEvidence(dip: Feature, { input, octave }: Scene): Evidence | undefined {
  const { spreadDb } = input;
  if (!spreadDb) return undefined;
  const within = (reach: number) => spreadDb.filter((_, i) => Math.abs(octave[i]! - octave[dip.index]!) <= reach);
  const at = within(AT_OCTAVES);
  const here = at.reduce((sum, s) => sum + s, 0) / at.length;
  const around = within(AROUND_OCTAVES).sort();
  const usual = around[around.length >> 1] ?? 0;
  const ratio = Math.max(here, 0.05) / Math.max(usual, 0.05);
  return {
    label: 'the microphone positions',
    terms: [{ name: 'spread', value: clip(Math.log2(ratio), -1.5, 2) }],
    sentence:
      `The positions differ by ${here.toFixed(1)} dB here against ${usual.toFixed(1)} dB around: ` +
      (ratio > 1.4
        ? 'it depends on the place, as cancellations do.'
        : ratio < 0.75
          ? "all of them have it, as they have what is the speaker's."
          : 'that says little either way.'),
  };
}
