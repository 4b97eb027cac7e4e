import { describe, expect, it } from 'vitest';
import { InputError } from '../../src/inputError.js';
import { readWavHeader } from '../../src/measurement/wavHeader.js';
import { damaged, testWav } from './wavBytes.js';

const read = (bytes: Uint8Array) => readWavHeader(bytes, 'room.wav');
const refusal = (bytes: Uint8Array, fileSize?: number): string => {
  try {
    readWavHeader(bytes, 'room.wav', fileSize);
  } catch (error) {
    expect(error).toBeInstanceOf(InputError);
    return (error as Error).message;
  }
  throw new Error('the header was accepted');
};
const joined = (...parts: (Uint8Array | string | number[])[]): Uint8Array =>
  Uint8Array.from(
    parts.flatMap((p) => (typeof p === 'string' ? Array.from(p, (c) => c.charCodeAt(0)) : [...p])),
  );

// Field offsets of the plain 44-byte header: form size 4, tag 20, channels 22, rate 24, bytes/s 28, align 32, bits 34, data size 40.
const plain = testWav('pcm16');

describe('readWavHeader', () => {
  it.each([
    ['pcm16', 1, 'pcm', 16, 44],
    ['pcm24', 2, 'pcm', 24, 44],
    ['pcm32', 3, 'pcm', 32, 68],
    ['float32', 1, 'float', 32, 58],
    ['float64', 5, 'float', 64, 80],
  ] as const)(
    'understands %s with %i channels',
    (format, channelCount, encoding, bitsPerSample, dataOffset) => {
      expect(read(testWav(format, channelCount, 77, 44_100))).toEqual({
        encoding,
        bitsPerSample,
        channelCount,
        sampleRateHz: 44_100,
        frameCount: 77,
        bytesPerFrame: (channelCount * bitsPerSample) / 8,
        channelMask: 0,
        dataOffset,
        warnings: [],
      });
    },
  );

  it('steps over chunks that it does not need, padded to even length', () => {
    const list = [...joined('LIST'), 3, 0, 0, 0, 1, 2, 3, 0];
    const bytes = joined(plain.subarray(0, 12), list, plain.subarray(12));
    new DataView(bytes.buffer).setUint32(4, bytes.length - 8, true);
    expect(read(bytes)).toMatchObject({ frameCount: 100, dataOffset: 56, warnings: [] });
  });

  it('reads the size of the samples from the 64-bit chunk of an RF64 file', () => {
    const ds64 = joined('ds64', [28, 0, 0, 0], new Uint8Array(28));
    const bytes = joined('RF64', [255, 255, 255, 255], 'WAVE', ds64, plain.subarray(12));
    const view = new DataView(bytes.buffer);
    view.setUint32(44 + 36 - 4, 0xffffffff, true);
    view.setBigUint64(28, 200n, true);
    expect(read(bytes)).toMatchObject({ frameCount: 100, dataOffset: 80, warnings: [] });
  });

  it('needs only the beginning of a long file when told its length', () => {
    const oneHour = 3600 * 48_000;
    const head = damaged(plain.slice(0, 44), (v) => {
      v.setUint32(4, 36 + 2 * oneHour, true);
      v.setUint32(40, 2 * oneHour, true);
    });
    expect(readWavHeader(head, 'room.wav', 44 + 2 * oneHour).frameCount).toBe(oneHour);
    expect(refusal(head, 44 + 2 * oneHour - 1)).toMatch(/promises .* only .* follow/);
  });

  it('refuses more than an hour', () => {
    const frames = 3601 * 48_000;
    const head = damaged(plain.slice(0, 44), (v) => {
      v.setUint32(4, 36 + 2 * frames, true);
      v.setUint32(40, 2 * frames, true);
    });
    expect(refusal(head, 44 + 2 * frames)).toMatch(/3601 s long; at most 3600 s/);
  });

  it.each([
    ['an empty file', new Uint8Array(0), /too short.*0 bytes/],
    ['text', joined('20.0 81.2\n21.0 82.0\n'), /not a WAV file: it begins with "20\.0"/],
    ['a big-endian file', joined('RIFX', plain.subarray(4)), /big-endian/],
    ['another RIFF kind', joined('RIFF', [4, 0, 0, 0], 'AVI ', [0, 0]), /kind "AVI "/],
    [
      'binary rubbish',
      Uint8Array.from({ length: 40 }, (_, i) => (i * 37) % 7),
      /begins with bytes 00 02 04 06/,
    ],
    [
      'a file cut off within the header',
      plain.slice(0, 30),
      /"fmt " chunk at byte 12 claims 16 bytes.*only 10/,
    ],
    ['a file cut off before the samples', plain.slice(0, 36), /ends at byte 36 without a "data" chunk/],
    [
      'a file cut off within the samples',
      plain.slice(0, 101),
      /promises 200 bytes of samples, but only 57 follow/,
    ],
    ['a size never filled in', damaged(plain, (v) => v.setUint32(40, 0xffffffff, true)), /broken off/],
    ['a size of zero with samples behind', damaged(plain, (v) => v.setUint32(40, 0, true)), /broken off/],
    ['no samples at all', damaged(plain.slice(0, 44), (v) => v.setUint32(40, 0, true)), /holds no samples/],
    ['part of a frame', damaged(plain, (v) => v.setUint32(40, 199, true)), /no whole number of frames of 2/],
    ['no channels', damaged(plain, (v) => v.setUint16(22, 0, true)), /0 channels/],
    [
      'a frame that does not fit its channels',
      damaged(plain, (v) => v.setUint16(22, 2, true)),
      /contradicts itself/,
    ],
    ['13 bits', damaged(plain, (v) => v.setUint16(34, 13, true)), /pcm of 13 bits; expected 16, 24 or 32/],
    ['ADPCM', damaged(plain, (v) => v.setUint16(20, 2, true)), /encoded as ADPCM; expected PCM/],
    ['an unknown encoding', damaged(plain, (v) => v.setUint16(20, 4711, true)), /encoded as format 4711/],
    [
      'a sample rate that contradicts the bytes a second',
      damaged(plain, (v) => v.setUint32(24, 96_000, true)),
      /says 96000 Hz, but 96000 bytes a second .* are 48000 Hz/,
    ],
    [
      'a sample rate out of range',
      damaged(plain, (v) => v.setUint32(24, 4000, true)),
      /4000 Hz; expected 8000 to 384000/,
    ],
    [
      'a chunk that claims the rest of the disk',
      damaged(plain, (v) => v.setUint32(16, 0x7fffffff, true)),
      /claims 2147483647 bytes/,
    ],
    [
      'a short format chunk',
      damaged(plain, (v) => v.setUint32(16, 4, true)),
      /"fmt " chunk has 4 bytes; expected at least 16/,
    ],
  ])('refuses %s and says so', (_, bytes, message) => {
    const text = refusal(bytes);
    expect(text).toMatch(message);
    expect(text).toMatch(/^room\.wav: /);
  });

  it('refuses a sub-format of its own in an extensible header', () => {
    const extensible = testWav('pcm16', 3);
    expect(refusal(damaged(extensible, (v) => v.setUint8(50, 1)))).toMatch(/unknown sub-format/);
    expect(refusal(damaged(extensible, (v) => v.setUint16(38, 20, true)))).toMatch(/20 bits used of 16/);
  });

  it('reads on where only the size of the whole is wrong, with a warning', () => {
    const [warning] = read(damaged(plain, (v) => v.setUint32(4, 12, true))).warnings;
    expect(warning).toMatchObject({ code: 'wav-header-wrong-size' });
    expect(warning!.message).toMatch(/has 20 bytes; it has 244/);
  });

  it('warns where the rate cannot be checked', () => {
    expect(read(damaged(plain, (v) => v.setUint32(28, 0, true))).warnings).toMatchObject([
      { code: 'wav-header-incomplete' },
    ]);
  });
});
