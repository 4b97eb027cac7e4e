import { findClipping } from '../impulse/clipping.js';
import type { ImpulseResponse } from '../impulse/impulseResponse.js';
import { InputError } from '../inputError.js';
import type { Warning } from '../warning.js';
import { readWavChannel } from './wavFile.js';

/** 120 dB above full scale and 240 dB below: beyond is no recording, and squares of it may not be finite. */
const MAX_PEAK = 1e6;
const MIN_PEAK = 1e-12;

export interface ReadImpulse {
  readonly impulse: ImpulseResponse;
  readonly warnings: readonly Warning[];
}

/**
 * An impulse response from one channel of a WAV file; a clipped one is warned of.
 *
 * @param channelNumber counted from 1; without it the first
 * @throws InputError as `readWavChannel`, or where the samples are no recording's by their size
 */
export function readImpulse(bytes: Uint8Array, fileName: string, channelNumber?: number): ReadImpulse {
  const { samples, sampleRateHz, warnings } = readWavChannel(bytes, fileName, channelNumber);
  const peak = samples.reduce((most, v) => Math.max(most, Math.abs(v)), 0);
  if (peak > MAX_PEAK || (peak > 0 && peak < MIN_PEAK)) {
    throw new InputError(
      `${fileName}: its highest sample is ${peak.toPrecision(3)}, where 1 is full scale; expected a recording`,
    );
  }
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
