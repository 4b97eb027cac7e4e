import { InputError } from '../../inputError.js';
import type { DeviceProfile } from './deviceProfile.js';

const USUAL_HZ = 48000;

/**
 * The sample rate that a device runs at: the one asked for, else 48 kHz where it has that, else its first.
 *
 * @throws InputError where the device does not have the one asked for
 */
export function deviceSampleRateHz({ name, sampleRatesHz }: DeviceProfile, askedHz?: number): number {
  if (askedHz === undefined) return sampleRatesHz.includes(USUAL_HZ) ? USUAL_HZ : sampleRatesHz[0]!;
  if (sampleRatesHz.includes(askedHz)) return askedHz;
  throw new InputError(
    `--sample-rate: found ${askedHz} Hz, expected one that the device "${name}" has: ${sampleRatesHz.join(', ')} Hz`,
  );
}
