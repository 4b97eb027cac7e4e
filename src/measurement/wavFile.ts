import type { SampleSource } from '../impulse/samples/sampleSource.js';
import { InputError } from '../inputError.js';
import type { Warning } from '../warning.js';
import { readWavHeader, type WavHeader } from './wavHeader.js';
import { decodeWavFrames } from './wavSamples.js';

/** Frames that are unpacked between two reports of progress. */
const blockFrames = 1 << 22;

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
 * @param progress told the share that is done, from 0 to 1
 * @throws InputError as `readWavHeader`, or where there is no such channel
 */
export function readWavChannel(
  bytes: Uint8Array,
  fileName: string,
  channelNumber?: number,
  progress?: (share: number) => void,
): WavChannel {
  const header = readWavHeader(bytes, fileName);
  const index = wavChannelIndex(header, fileName, channelNumber);
  const { frameCount } = header;
  const samples = new Float64Array(frameCount);
  for (let from = 0; from < frameCount; from += blockFrames) {
    const to = Math.min(frameCount, from + blockFrames);
    const block = framesOf(bytes, header, from, to - from);
    decodeWavFrames(block, header, index, fileName, from, to - from, samples.subarray(from, to));
    progress?.(to / frameCount);
  }
  const warnings = [...header.warnings];
  if (channelNumber === undefined && header.channelCount > 1)
    warnings.push({
      code: 'first-channel-used',
      message: `${fileName} has ${header.channelCount} channels; the first was used. Say which one if it is another.`,
    });
  return {
    samples,
    sampleRateHz: header.sampleRateHz,
    header,
    warnings,
  };
}

/**
 * One channel of a WAV file as a source that unpacks only what is read, for recordings too long to unpack at once.
 *
 * @throws InputError as `readWavChannel`
 */
export function wavSampleSource(
  bytes: Uint8Array,
  fileName: string,
  channelNumber?: number,
): SampleSource & { readonly sampleRateHz: number } {
  const header = readWavHeader(bytes, fileName);
  const index = wavChannelIndex(header, fileName, channelNumber);
  return {
    sampleRateHz: header.sampleRateHz,
    length: header.frameCount,
    read: (from, count) =>
      decodeWavFrames(framesOf(bytes, header, from, count), header, index, fileName, from, count),
  };
}

function framesOf(bytes: Uint8Array, header: WavHeader, from: number, count: number): Uint8Array {
  const start = header.dataOffset + from * header.bytesPerFrame;
  return bytes.subarray(start, start + count * header.bytesPerFrame);
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
