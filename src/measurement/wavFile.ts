import { InputError } from '../inputError.js';
import type { Warning } from '../warning.js';
import { readWavHeader, type WavHeader } from './wavHeader.js';
import { decodeWavFrames } from './wavSamples.js';

export interface WavChannel {
  readonly samples: Float64Array;
  readonly sampleRateHz: number;
  readonly header: WavHeader;
  readonly warnings: readonly Warning[];
}

/**
 * One channel of a whole WAV file, full scale ±1. Only that channel is unpacked: 8 bytes a sample beside the file.
 *
 * @param bytes the file
 * @param fileName for messages
 * @param channelNumber counted from 1, as users count; without it the first, which is said where there are more
 * @throws InputError as `readWavHeader`, or where there is no such channel
 */
export function readWavChannel(bytes: Uint8Array, fileName: string, channelNumber?: number): WavChannel {
  const header = readWavHeader(bytes, fileName);
  const index = wavChannelIndex(header, fileName, channelNumber);
  const data = bytes.subarray(
    header.dataOffset,
    header.dataOffset + header.frameCount * header.bytesPerFrame,
  );
  const warnings = [...header.warnings];
  if (channelNumber === undefined && header.channelCount > 1)
    warnings.push({
      code: 'first-channel-used',
      message: `${fileName} has ${header.channelCount} channels; the first was used. Say which one if it is another.`,
    });
  return {
    samples: decodeWavFrames(data, header, index, fileName),
    sampleRateHz: header.sampleRateHz,
    header,
    warnings,
  };
}

/** The index, from 0, of a channel that the user counts from 1; the first where none is asked for. */
export function wavChannelIndex(header: WavHeader, fileName: string, channelNumber = 1): number {
  if (!Number.isInteger(channelNumber) || channelNumber < 1 || channelNumber > header.channelCount)
    throw new InputError(
      `${fileName}: no channel ${channelNumber}; it has ${
        header.channelCount === 1 ? 'one channel' : `channels 1 to ${header.channelCount}`
      }`,
    );
  return channelNumber - 1;
}
