import { describe, expect, it } from 'vitest';
import wavefile from 'wavefile';
import { readWavChannel } from '../../src/measurement/wavFile.js';
import { writeWav } from '../../src/measurement/wavWriter.js';
import { testSamples, testWav } from './wavBytes.js';

// `wavefile` is written independently of our reader and writer: each is held against it.
const { WaveFile } = wavefile;
const full = { pcm16: 2 ** 15, pcm24: 2 ** 23, pcm32: 2 ** 31, float32: 1, float64: 1 } as const;
const bitDepth = { pcm16: '16', pcm24: '24', pcm32: '32', float32: '32f', float64: '64' } as const;
const formats = ['pcm16', 'pcm24', 'pcm32', 'float32', 'float64'] as const;

describe('writeWav', () => {
  it.each(formats)('writes %s that an independent library reads as meant', (format) => {
    // The library takes 32-bit float in an extensible header for integers, so that case is left to our own reader.
    for (const channelCount of format === 'float32' ? [1, 2] : [1, 2, 3]) {
      const read = new WaveFile(testWav(format, channelCount, 50, 96_000));
      expect(read.fmt).toMatchObject({ numChannels: channelCount, sampleRate: 96_000 });
      const samples = read.getSamples(false) as unknown as Float64Array | Float64Array[];
      for (let c = 0; c < channelCount; c++) {
        const channel = (channelCount === 1 ? samples : samples[c]) as Float64Array;
        channel.forEach((v, i) => {
          expect(Math.abs(v / full[format] - testSamples(50, c)[i]!)).toBeLessThan(0.51 / full.pcm16);
        });
      }
    }
  });

  it('limits samples beyond full scale in PCM and counts them; float keeps them', () => {
    const channels = [Float64Array.of(0.5, 1.2, -1.01, 1, -1)];
    const pcm = writeWav({ channels, sampleRateHz: 48_000, format: 'pcm16' });
    expect(pcm.limitedSamples).toBe(2);
    expect(Array.from(readWavChannel(pcm.bytes, 'a.wav').samples)).toEqual([
      0.5,
      1 - 2 ** -15,
      -1,
      1 - 2 ** -15,
      -1,
    ]);
    const float = writeWav({ channels, sampleRateHz: 48_000, format: 'float64' });
    expect(float.limitedSamples).toBe(0);
    expect(readWavChannel(float.bytes, 'a.wav').samples).toEqual(channels[0]);
  });

  it('refuses channels of different length, none, and samples that are no numbers', () => {
    const write = (...channels: Float64Array[]) =>
      writeWav({ channels, sampleRateHz: 48_000, format: 'pcm16' });
    expect(() => write()).toThrow(RangeError);
    expect(() => write(new Float64Array(3), new Float64Array(4))).toThrow(RangeError);
    expect(() => write(Float64Array.of(0, Number.NaN))).toThrow('sample 1 is NaN');
  });
});

describe('readWavChannel', () => {
  it.each(formats)('reads %s as an independent library wrote it', (format) => {
    for (const channelCount of [1, 2, 4]) {
      const channels = Array.from({ length: channelCount }, (_, c) =>
        testSamples(64, c).map((v) => (format.startsWith('pcm') ? Math.round(v * full[format]) : v)),
      );
      const file = new WaveFile();
      file.fromScratch(channelCount, 44_100, bitDepth[format], channelCount === 1 ? channels[0]! : channels);
      for (let c = 0; c < channelCount; c++) {
        const { samples, sampleRateHz } = readWavChannel(file.toBuffer(), 'a.wav', c + 1);
        expect(sampleRateHz).toBe(44_100);
        samples.forEach((v, i) => {
          expect(Math.abs(v - channels[c]![i]! / full[format])).toBeLessThan(1e-7);
        });
      }
    }
  });
});
