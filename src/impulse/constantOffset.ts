import type { ImpulseResponse } from './impulseResponse.js';

/** The rest before the sound ends this long before the peak. */
const clearanceS = 1e-3;
const fewestSamples = 64;
const tailShare = 0.1;
/** The level of rest before and after may differ by this share of the greater: a slow decay differs by more. */
const alike = 0.2;
/** Standard deviations of a median that an offset has to stand out by. */
const beyondChance = 5;
/** Less than this beside the peak shifts no level by as much as 0.1 dB. */
const leastShare = 1e-4;

/**
 * A constant that an impulse response rests at instead of 0, before the sound as long after it: the converter's, since
 * no loudspeaker radiates it. Left in, it fills the bass of the curve and hides the direct sound. 0 where none is seen.
 */
export function constantOffset({ samples, sampleRateHz }: ImpulseResponse): number {
  let peakAt = 0;
  for (let i = 1; i < samples.length; i++) if (Math.abs(samples[i]!) > Math.abs(samples[peakAt]!)) peakAt = i;
  const before = restOf(samples.subarray(0, Math.max(0, peakAt - Math.round(clearanceS * sampleRateHz))));
  const after = restOf(samples.subarray(samples.length - Math.floor(tailShare * (samples.length - peakAt))));
  if (!before || !after) return 0;
  const greater = Math.max(Math.abs(before.level), Math.abs(after.level));
  if (Math.abs(before.level - after.level) > alike * greater) return 0;
  const standsOut = [before, after].every(({ level, doubt }) => Math.abs(level) > beyondChance * doubt);
  const peak = Math.abs(samples[peakAt]!);
  return standsOut && greater > leastShare * peak ? after.level : 0;
}

/** Median and its standard deviation as that of normal noise; undefined where there are too few samples to tell. */
function restOf(part: Float64Array): { readonly level: number; readonly doubt: number } | undefined {
  if (part.length < fewestSamples) return undefined;
  const level = median(part);
  const deviation = 1.4826 * median(part.map((v) => Math.abs(v - level)));
  return { level, doubt: (1.2533 * deviation) / Math.sqrt(part.length) };
}

function median(values: Float64Array): number {
  const sorted = values.slice().sort();
  const half = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2;
}
