import type { DeviceProfile } from './deviceProfile.js';

/** How late a device lets its signal out with so many bands in use; undefined where its profile does not say. */
export function deviceDelay(
  { delay }: DeviceProfile,
  bandsInUse: number,
  sampleRateHz: number,
): { readonly samples: number; readonly ms: number } | undefined {
  if (!delay) return undefined;
  const { fixedMs = 0, fixedSamples = 0, perBandSamples = 0 } = delay;
  const samples = (fixedMs / 1000) * sampleRateHz + fixedSamples + perBandSamples * bandsInUse;
  const decimals = (value: number) => Number(value.toFixed(4));
  return { samples: decimals(samples), ms: decimals((1000 * samples) / sampleRateHz) };
}
