import { describe, expect, test } from 'vitest';
import { renderWav } from '../../../src/export/audio/renderWav.js';
import { renderText } from '../../../src/export/text/renderText.js';
import { createBankRunner } from '../../../src/filter/runBank.js';
import { InputError } from '../../../src/inputError.js';
import { readWavChannel } from '../../../src/measurement/wavFile.js';
import { readWavHeader } from '../../../src/measurement/wavHeader.js';
import { type WavSampleFormat, writeWav } from '../../../src/measurement/wavWriter.js';

const design = {
  sampleRateHz: 48000,
  inputGainDb: -4,
  filters: [
    { type: 'peaking' as const, frequencyHz: 1000, gainDb: 4, q: 2 },
    { type: 'lowShelf' as const, frequencyHz: 100, gainDb: -3, q: 0.7 },
  ],
};
const samples = (count: number, channel: number) =>
  Float64Array.from({ length: count }, (_, i) => 0.5 * Math.sin(0.131 * (channel + 1) * i + channel));
const wav = (channelCount: number, format: WavSampleFormat, count = 70_001, sampleRateHz = 48000) =>
  writeWav({
    channels: Array.from({ length: channelCount }, (_, c) => samples(count, c)),
    sampleRateHz,
    format,
  }).bytes;

describe('rendering a WAV file', () => {
  test.each([
    [1, 'pcm16'],
    [2, 'pcm24'],
    [3, 'pcm32'],
    [6, 'float32'],
    [1, 'float64'],
  ] as const)('%i channels of %s come out as such, each as its own run gives it', (channelCount, format) => {
    const input = wav(channelCount, format);
    const { bytes, report } = renderWav(design, input, 'in.wav');
    expect(report).toMatchObject({ format, channelCount, frameCount: 70_001, samplesOver: 0, warnings: [] });
    expect(bytes.length).toBe(input.length);
    const header = readWavHeader(bytes, 'out.wav');
    expect(header.warnings).toEqual([]);
    // Half a step of the format, and single precision for float.
    const step = { pcm16: 2 ** -16, pcm24: 2 ** -24, pcm32: 2 ** -32, float32: 2 ** -24, float64: 1e-15 }[
      format
    ];
    for (let channel = 0; channel < channelCount; channel++) {
      const expected = readWavChannel(input, 'in.wav', channel + 1).samples.slice();
      createBankRunner(design.filters, 48000, -4)(expected);
      const { samples: got } = readWavChannel(bytes, 'out.wav', channel + 1);
      const worst = got.reduce((most, value, i) => Math.max(most, Math.abs(value - expected[i]!)), 0);
      expect(worst).toBeLessThan(1.01 * step);
      expect(got.some((value) => Math.abs(value) > 0.2)).toBe(true);
    }
  });

  test.each([
    [6, 0x3f], // front left, right and centre, low frequencies, back left and right
    [6, 0x60f], // the same with side speakers
    [2, 0x30], // back left and right
    [2, 0x3],
    [3, 0],
  ])('%i channels keep the loudspeakers that they are for (mask %i)', (channelCount, channelMask) => {
    const channels = Array.from({ length: channelCount }, (_, c) => samples(100, c));
    const input = writeWav({ channels, sampleRateHz: 48000, format: 'pcm16', channelMask }).bytes;
    const { bytes } = renderWav(design, input, 'in.wav', 'pcm24');
    const header = readWavHeader(bytes, 'out.wav');
    // A plain header means front left and right without saying so.
    expect(header.channelMask).toBe(channelMask === 0x3 ? 0 : channelMask);
    expect(header).toMatchObject({ channelCount, frameCount: 100, bitsPerSample: 24, warnings: [] });
    if (channelMask > 0x3) {
      // dwChannelMask: 20 bytes into the "fmt " chunk's content (Microsoft, WAVEFORMATEXTENSIBLE).
      expect(new DataView(bytes.buffer).getUint32(12 + 8 + 20, true)).toBe(channelMask);
    }
  });

  test('what exceeds full scale is clipped and counted in PCM, kept and counted in float', () => {
    const loud = { ...design, inputGainDb: 0 };
    const square = Float64Array.from({ length: 4800 }, (_, i) => (i % 48 < 24 ? 0.9 : -0.9));
    const input = writeWav({ channels: [square], sampleRateHz: 48000, format: 'pcm16' }).bytes;
    const clipped = renderWav(loud, input, 'in.wav');
    expect(clipped.report.samplesOver).toBeGreaterThan(100);
    expect(clipped.report.limitedSamples).toBeGreaterThan(100);
    expect(clipped.report.warnings[0]?.message).toMatch(/were clipped/);
    expect(Math.max(...readWavChannel(clipped.bytes, 'out.wav').samples)).toBeLessThan(1);

    const kept = renderWav(loud, input, 'in.wav', 'float32');
    expect(kept.report.samplesOver).toBe(clipped.report.samplesOver);
    expect(kept.report.limitedSamples).toBe(0);
    const peak = Math.max(...readWavChannel(kept.bytes, 'out.wav').samples);
    expect(peak).toBeGreaterThan(1.1);
    expect(kept.report.peakAfterDb).toBeCloseTo(20 * Math.log10(peak), 5);
    expect(renderText(kept.report, 'out.wav')).toMatch(/holds them as they are/);
  });

  test('another sample rate is refused, with the way out', () => {
    const refuse = () => renderWav(design, wav(1, 'pcm16', 100, 44100), 'in.wav');
    expect(refuse).toThrow(InputError);
    expect(refuse).toThrow(
      /in\.wav: found a sample rate of 44100 Hz, expected 48000 Hz.*--sample-rate 44100/,
    );
  });

  test('silence stays silence and says so', () => {
    const input = writeWav({ channels: [new Float64Array(10)], sampleRateHz: 48000, format: 'pcm16' }).bytes;
    const { report } = renderWav(design, input, 'in.wav');
    expect(report.peakAfterDb).toBeUndefined();
    expect(renderText(report, 'out.wav')).toContain('silence');
  });
});
