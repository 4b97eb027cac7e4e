import { InputError } from '../inputError.js';
import { type WavSampleFormat, writeWav } from './wavWriter.js';

export interface WavBlockWriter {
  /** One block of equal length for each channel, full scale ±1. */
  readonly append: (channels: readonly Float64Array[]) => void;
  /** The whole file, once all frames are in. */
  readonly finish: () => { readonly bytes: Uint8Array; readonly limitedSamples: number };
}

/**
 * A WAV file whose length is known beforehand, filled block by block: no more is held than the file itself.
 *
 * @throws InputError where it would exceed what a WAV header can state
 */
export function createWavBlockWriter(file: {
  readonly channelCount: number;
  readonly sampleRateHz: number;
  readonly format: WavSampleFormat;
  readonly frameCount: number;
  readonly channelMask?: number;
  /** Whole chunks of even length to stand after the samples. */
  readonly chunks?: readonly Uint8Array[];
}): WavBlockWriter {
  const { channelCount, sampleRateHz, format, frameCount, channelMask = 0, chunks = [] } = file;
  const write = (channels: readonly Float64Array[]) =>
    writeWav({ channels, sampleRateHz, format, channelMask });
  const one = write(Array.from({ length: channelCount }, () => new Float64Array(1))).bytes;
  const bytesPerFrame = channelCount * bytesPerSample[format];
  const headerSize = one.length - bytesPerFrame - (bytesPerFrame % 2);
  const dataSize = frameCount * bytesPerFrame;
  const dataEnd = headerSize + dataSize + (dataSize % 2);
  const fileSize = chunks.reduce((sum, { length }) => sum + length, dataEnd);
  if (fileSize - 8 > 0xffffffff) {
    throw new InputError(
      `a WAV file of ${fileSize} bytes; at most 4 GB can be written. Use fewer bits or less time.`,
    );
  }
  const bytes = new Uint8Array(fileSize);
  bytes.set(one.subarray(0, headerSize));
  const view = new DataView(bytes.buffer);
  view.setUint32(4, fileSize - 8, true);
  view.setUint32(headerSize - 4, dataSize, true);
  // The frame count stands before "data" and its size.
  if (format.startsWith('float')) view.setUint32(headerSize - 12, frameCount, true);
  let chunkAt = dataEnd;
  for (const chunk of chunks) {
    bytes.set(chunk, chunkAt);
    chunkAt += chunk.length;
  }
  let at = headerSize;
  let limitedSamples = 0;
  return {
    append: (channels) => {
      const block = write(channels);
      const size = (channels[0]?.length ?? 0) * bytesPerFrame;
      if (at + size > headerSize + dataSize) throw new RangeError('more frames than the file was made for');
      bytes.set(block.bytes.subarray(headerSize, headerSize + size), at);
      at += size;
      limitedSamples += block.limitedSamples;
    },
    finish: () => {
      if (at !== headerSize + dataSize) throw new RangeError('fewer frames than the file was made for');
      return { bytes, limitedSamples };
    },
  };
}

export const bytesPerSample: Readonly<Record<WavSampleFormat, number>> = {
  pcm16: 2,
  pcm24: 3,
  pcm32: 4,
  float32: 4,
  float64: 8,
};
