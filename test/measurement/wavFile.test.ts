import { describe, expect, it } from 'vitest';
import { InputError } from '../../src/inputError.js';
import { readWavChannel, wavSampleSource } from '../../src/measurement/wavFile.js';
import { decodeWavFrames } from '../../src/measurement/wavSamples.js';
import { writeWav } from '../../src/measurement/wavWriter.js';
import { damaged, testSamples, testWav } from './wavBytes.js';

// Half a step of each format, with a little room for the arithmetic.
const step = { pcm16: 2 ** -15, pcm24: 2 ** -23, pcm32: 2 ** -31, float32: 2 ** -24, float64: 0 } as const;

describe('readWavChannel', () => {
  it.each(['pcm16', 'pcm24', 'pcm32', 'float32', 'float64'] as const)(
    'gives back each channel of a %s file within half a step',
    (format) => {
      const bytes = testWav(format, 3, 1000);
      for (const channel of [1, 2, 3]) {
        const { samples, sampleRateHz } = readWavChannel(bytes, 'a.wav', channel);
        const written = testSamples(1000, channel - 1);
        expect(sampleRateHz).toBe(48_000);
        expect(samples).toHaveLength(1000);
        samples.forEach((v, i) => {
          expect(Math.abs(v - written[i]!)).toBeLessThanOrEqual(0.5001 * step[format]);
        });
      }
    },
  );

  it('reads from bytes that begin anywhere in their buffer', () => {
    const bytes = testWav('pcm24', 1, 10);
    const shifted = new Uint8Array(bytes.length + 3);
    shifted.set(bytes, 3);
    expect(readWavChannel(shifted.subarray(3), 'a.wav').samples).toEqual(
      readWavChannel(bytes, 'a.wav').samples,
    );
  });

  it('knows the extremes of every PCM width', () => {
    for (const format of ['pcm16', 'pcm24', 'pcm32'] as const) {
      const { bytes } = writeWav({ channels: [Float64Array.of(-1, 0, 1)], sampleRateHz: 8000, format });
      expect(Array.from(readWavChannel(bytes, 'a.wav').samples)).toEqual([-1, 0, 1 - step[format]]);
    }
  });

  it('reads unsigned 8-bit PCM', () => {
    const bytes = damaged(testWav('pcm16', 1, 2), (v) => {
      v.setUint32(28, 48_000, true);
      v.setUint16(32, 1, true);
      v.setUint16(34, 8, true);
      [0, 128, 192, 255].forEach((byte, i) => {
        v.setUint8(44 + i, byte);
      });
    });
    expect(Array.from(readWavChannel(bytes, 'a.wav').samples)).toEqual([-1, 0, 0.5, 127 / 128]);
  });

  it('takes the first of several channels and says so', () => {
    const { samples, warnings } = readWavChannel(testWav('float64', 2), 'a.wav');
    expect(samples[1]).toBe(testSamples(2)[1]);
    expect(warnings).toMatchObject([{ code: 'first-channel-used' }]);
    expect(readWavChannel(testWav('float64', 2), 'a.wav', 1).warnings).toEqual([]);
  });

  it.each([0, 3, 1.5, -1])('refuses channel %d of two', (channel) => {
    expect(() => readWavChannel(testWav('pcm16', 2), 'a.wav', channel)).toThrow(
      new InputError(`a.wav: no channel ${channel}; it has channels 1 to 2`),
    );
  });

  it.each([Number.NaN, Number.POSITIVE_INFINITY])(
    'refuses a float sample that is %d and says where',
    (value) => {
      const bytes = damaged(testWav('float64'), (v) => v.setFloat64(58 + 8 * 48, value, true));
      expect(() => readWavChannel(bytes, 'a.wav')).toThrow(/a\.wav: sample 48 \(at 0\.0010 s\) is/);
    },
  );
});

describe('decodeWavFrames', () => {
  it('decodes a file in pieces to the same samples', () => {
    const bytes = testWav('pcm24', 2, 100);
    const { header, samples } = readWavChannel(bytes, 'a.wav', 2);
    const piece = (from: number, to: number) =>
      decodeWavFrames(
        bytes.subarray(header.dataOffset + 6 * from, header.dataOffset + 6 * to),
        header,
        1,
        'a.wav',
        from,
      );
    expect([...piece(0, 33), ...piece(33, 100)]).toEqual([...samples]);
  });
});

describe('wavSampleSource', () => {
  it('unpacks what is read, and only that', () => {
    const bytes = testWav('pcm16', 2, 500, 44_100);
    const whole = readWavChannel(bytes, 'a.wav', 2).samples;
    const source = wavSampleSource(bytes, 'a.wav', 2);
    expect(source).toMatchObject({ length: 500, sampleRateHz: 44_100 });
    expect(source.read(0, 500)).toEqual(whole);
    expect(source.read(123, 45)).toEqual(whole.slice(123, 168));
    expect(() => wavSampleSource(bytes, 'a.wav', 3)).toThrow(InputError);
  });
});

describe('progress', () => {
  it('rises to 1', () => {
    const shares: number[] = [];
    readWavChannel(testWav(), 'a.wav', 1, (share) => shares.push(share));
    expect(shares).toEqual([1]);
  });
});
