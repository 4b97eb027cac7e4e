import type { ImpulseResponse } from './impulseResponse.js';

/** The rest before the sound ends this long before the peak. */
const CLEARANCE_S = 1e-3;
const FEWEST_SAMPLES = 64;
const TAIL_SHARE = 0.1;
/** The level of rest before and after may differ by this share of the greater: a slow decay differs by more. */
const ALIKE = 0.2;
/** Left out at either end of the samples in order of height. */
const TRIMMED_SHARE = 0.1;
/** Standard deviations of its mean that an offset has to stand out by. */
const BEYOND_CHANCE = 5;
/** Less than this beside the peak shifts no level by as much as 0.1 dB. */
const LEAST_SHARE = 1e-4;

/**
 * A constant that an impulse response rests at instead of 0, before the sound as long after it: the converter's, since
 * no loudspeaker radiates it. Left in, it fills the bass of the curve and hides the direct sound. 0 where none is seen.
 */
export function constantOffset({ samples, sampleRateHz }: ImpulseResponse): number {
  let peakAt = 0;
  for (let i = 1; i < samples.length; i++) if (Math.abs(samples[i]!) > Math.abs(samples[peakAt]!)) peakAt = i;
  const before = restOf(samples.subarray(0, Math.max(0, peakAt - Math.round(CLEARANCE_S * sampleRateHz))));
  const after = restOf(samples.subarray(samples.length - Math.floor(TAIL_SHARE * (samples.length - peakAt))));
  if (!before || !after) return 0;
  const greater = Math.max(Math.abs(before.level), Math.abs(after.level));
  if (Math.abs(before.level - after.level) > ALIKE * greater) return 0;
  const standsOut = [before, after].every(({ level, doubt }) => Math.abs(level) > BEYOND_CHANCE * doubt);
  const peak = Math.abs(samples[peakAt]!);
  return standsOut && greater > LEAST_SHARE * peak ? after.level : 0;
}

/**
 * Mean of all but the outermost samples, which a rest of sound may hold, and its standard deviation; undefined where
 * there are too few to tell. A median would jump from step to step of a coarsely rounded recording.
 */
function restOf(part: Float64Array): { readonly level: number; readonly doubt: number } | undefined {
  if (part.length < FEWEST_SAMPLES) return undefined;
  const cut = Math.floor(TRIMMED_SHARE * part.length);
  const inner = part
    .slice()
    .sort()
    .subarray(cut, part.length - cut);
  const level = inner.reduce((sum, v) => sum + v, 0) / inner.length;
  const power = inner.reduce((sum, v) => sum + (v - level) ** 2, 0) / inner.length;
  return { level, doubt: Math.sqrt(power / inner.length) };
}
