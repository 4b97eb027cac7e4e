import { type WavSampleFormat, writeWav } from '../../src/measurement/wavWriter.js';

/** Deterministic samples within ±0.9, different in each channel. */
export const testSamples = (count: number, channel = 0): Float64Array =>
  Float64Array.from({ length: count }, (_, i) => 0.9 * Math.sin(0.37 * i * (channel + 1) + channel));

export const testWav = (
  format: WavSampleFormat = 'pcm16',
  channelCount = 1,
  count = 100,
  sampleRateHz = 48_000,
): Uint8Array =>
  writeWav({
    channels: Array.from({ length: channelCount }, (_, c) => testSamples(count, c)),
    sampleRateHz,
    format,
  }).bytes;

export const damaged = (bytes: Uint8Array, damage: (view: DataView) => void): Uint8Array => {
  const copy = Uint8Array.from(bytes);
  damage(new DataView(copy.buffer));
  return copy;
};
