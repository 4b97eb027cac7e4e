import { findClipping } from '../impulse/samples/clipping.js';
import { constantOffset } from '../impulse/samples/constantOffset.js';
import { spreadShare } from '../impulse/samples/energyNearPeak.js';
import type { ImpulseResponse } from '../impulse/samples/impulseResponse.js';
import { InputError } from '../inputError.js';
import type { Warning } from '../warning.js';
import { type ChannelOfFile, inChannel } from './inChannel.js';
import { sweptSpan } from './sweptSpan.js';
import { readWavChannel } from './wavFile.js';

/** 120 dB above full scale and 240 dB below: beyond is no recording, and squares of it may not be finite. */
const MAX_PEAK = 1e6;
const MIN_PEAK = 1e-12;

export interface ReadImpulse {
  readonly impulse: ImpulseResponse;
  readonly warnings: readonly Warning[];
  /** What is refused later on is to be said of. */
  readonly channel: ChannelOfFile;
}

/**
 * An impulse response from one channel of a WAV file; a clipped one is warned of, and a constant offset taken off.
 *
 * @param channelNumber counted from 1; without it the first
 * @throws InputError as `readWavChannel`, or where the samples are no recording's by their size, or
 *   where the sound goes on as in the recording of a sweep
 */
export function readImpulse(bytes: Uint8Array, fileName: string, channelNumber?: number): ReadImpulse {
  const { samples, sampleRateHz, header, warnings } = readWavChannel(bytes, fileName, channelNumber);
  const channel = { fileName, channelCount: header.channelCount, channelNumber };
  const peak = samples.reduce((most, v) => Math.max(most, Math.abs(v)), 0);
  inChannel(channel, () => refuseSize(peak));
  const clipping = findClipping(samples);
  const offset = constantOffset({ samples, sampleRateHz });
  const swept = sweptSpan(bytes, header);
  const impulse = {
    samples: offset === 0 ? samples : samples.map((v) => v - offset),
    sampleRateHz,
    ...(swept && { swept }),
  };
  inChannel(channel, () => refuseLasting(impulse));
  return {
    impulse,
    channel,
    warnings: [
      ...warnings,
      ...(offset === 0
        ? []
        : [
            {
              code: 'offset-removed',
              message:
                `${fileName} rests at ${((100 * offset) / peak).toPrecision(2)} % of its peak instead of at 0. No speaker radiates ` +
                'such a constant, so it was taken off; the input that recorded it adds it.',
            },
          ]),
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

function refuseSize(peak: number): void {
  if (peak <= MAX_PEAK && (peak === 0 || peak >= MIN_PEAK)) return;
  throw new InputError(
    `its highest sample is ${peak.toPrecision(3)}, where 1 is full scale; expected a recording`,
  );
}

/** A sweep, as it was played or recorded, is no impulse response: what would come of it looks like a curve. */
function refuseLasting(impulse: ImpulseResponse): void {
  const share = spreadShare(impulse);
  if (share === undefined) return;
  throw new InputError(
    `found ${Math.round(100 * share)} % of its energy within a quarter of a second of its peak, ` +
      'expected an impulse response, which has most of it there. What deconvolve left looks so where noise drowned ' +
      'the sweep, or where another sweep was recorded than it was told. Turn a recorded sweep into one first: ' +
      'nullwise deconvolve',
  );
}
