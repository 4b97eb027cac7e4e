import { freeSlots } from '../device/profile/bandSlots.js';
import type { DeviceProfile } from '../device/profile/deviceProfile.js';
import { formatFrequency } from '../units/formatFrequency.js';
import type { Warning } from '../warning.js';
import { SHARE_OF_NYQUIST } from './fitLimits.js';

/**
 * Bands at fixed frequencies that a device has but no fit can use. Such as merely lie outside the range to be
 * corrected need no word: they stay at 0 dB as everything does there.
 */
export function fixedBandWarnings(device: DeviceProfile, sampleRateHz: number): Warning[] {
  const { name, frequencyHz, bands } = device;
  const fixed = bands.flatMap(({ count, atHz }) => Array.from({ length: count }, (_, k) => atHz?.[k]));
  const mostHz = (SHARE_OF_NYQUIST * sampleRateHz) / 2;
  const isTooHigh = (hz: number) => hz > mostHz;
  const isOutside = (hz: number) => !isTooHigh(hz) && (hz < frequencyHz.min || hz > frequencyHz.max);
  const warning = (isMeant: (hz: number) => boolean, why: string): Warning[] => {
    const meant = fixed.flatMap((hz, i) => (hz !== undefined && isMeant(hz) ? [{ band: i + 1, hz }] : []));
    if (meant.length === 0) return [];
    const words = meant.map(({ band, hz }) => `band ${band} at ${formatFrequency(hz)}`).join(', ');
    return [
      {
        code: 'fixed-band-unusable',
        message: `Device "${name}": ${words} ${meant.length === 1 ? 'is' : 'are'} not used: ${why}`,
        frequencyHz: meant[0]!.hz,
      },
    ];
  };
  return [
    ...warning(
      isTooHigh,
      `at a sample rate of ${sampleRateHz} Hz no band works above ${formatFrequency(mostHz)}. Choose a higher rate ` +
        'that the equalizer has (--sample-rate), or leave them at 0 dB.',
    ),
    // Where no band can be moved, nothing is bound to the frequencies that one could be moved to.
    ...(freeSlots(device).length === 0
      ? []
      : warning(
          isOutside,
          `"frequencyHz" of the equalizer goes from ${formatFrequency(frequencyHz.min)} to ${formatFrequency(frequencyHz.max)}. ` +
            'To use them, widen that range; it holds for the other bands too.',
        )),
  ];
}
