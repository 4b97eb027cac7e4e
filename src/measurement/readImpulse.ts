import { findClipping } from '../impulse/clipping.js';
import type { ImpulseResponse } from '../impulse/impulseResponse.js';
import type { Warning } from '../warning.js';
import { readWavChannel } from './wavFile.js';

export interface ReadImpulse {
  readonly impulse: ImpulseResponse;
  readonly warnings: readonly Warning[];
}

/**
 * An impulse response from one channel of a WAV file; a clipped one is warned of.
 *
 * @param channelNumber counted from 1; without it the first
 * @throws InputError as `readWavChannel`
 */
export function readImpulse(bytes: Uint8Array, fileName: string, channelNumber?: number): ReadImpulse {
  const { samples, sampleRateHz, warnings } = readWavChannel(bytes, fileName, channelNumber);
  const clipping = findClipping(samples);
  return {
    impulse: { samples, sampleRateHz },
    warnings: [
      ...warnings,
      ...(clipping
        ? [
            {
              code: 'impulse-clipped',
              message:
                `${fileName} is cut off at its peak (flat tops at ${clipping.level.toFixed(3)} of full scale, ` +
                `${clipping.count} in all, the first at sample ${clipping.firstSample}). ` +
                'Measure again with less gain; the response is wrong as it is.',
            },
          ]
        : []),
    ],
  };
}
