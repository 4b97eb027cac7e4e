import { pow2 } from '../../elementary/exponential.js';
import { seededRandom } from '../../fit/seededRandom.js';
import { bytesPerSample } from '../../measurement/wavBlockWriter.js';
import type { WavSampleFormat } from '../../measurement/wavWriter.js';

/** How samples are brought to the steps of a PCM format. */
export type Dither = 'none' | 'triangular';

/** Whether a format has steps to be rounded to. */
export const hasSteps = (format: WavSampleFormat): boolean => format.startsWith('pcm');

/**
 * Adds noise ahead of the rounding, the sum of two even distributions one step wide each: so neither the mean of the
 * rounding's error nor its power follows the signal (Lipshitz, Wannamaker and Vanderkooy, J. Audio Eng. Soc. 40, 1992). The
 * same channel of the same file gets the same noise.
 *
 * @returns a function that adds it in place, block after block of one channel
 */
export function triangularDither(format: WavSampleFormat, channel: number): (samples: Float64Array) => void {
  if (!hasSteps(format)) return () => {};
  const step = pow2(1 - 8 * bytesPerSample[format]);
  const random = seededRandom(0x5eed + 7919 * channel);
  return (samples) => {
    for (let i = 0; i < samples.length; i++) samples[i] = samples[i]! + step * (random() - random());
  };
}
