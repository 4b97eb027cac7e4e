import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { InputError } from '../../src/inputError.js';
import { readWavChannel } from '../../src/measurement/wavFile.js';
import { writeWav } from '../../src/measurement/wavWriter.js';
import { testWav } from '../measurement/wavBytes.js';

const settings = { seed: 41, numRuns: 2000 };
const formats = ['pcm16', 'pcm24', 'pcm32', 'float32', 'float64'] as const;
const file = fc
  .record({
    format: fc.constantFrom(...formats),
    channels: fc.integer({ min: 1, max: 4 }),
    count: fc.integer({ min: 1, max: 60 }),
  })
  .map(({ format, channels, count }) => testWav(format, channels, count));

/** Either finite samples, as many as the file can hold, or a refusal that names the file. Anything else is a fault. */
function isReadOrRefused(bytes: Uint8Array): 'read' | 'refused' {
  try {
    const { samples, header } = readWavChannel(bytes, 'x.wav');
    expect(samples.length * header.bytesPerFrame).toBeLessThanOrEqual(bytes.length);
    expect(samples.every(Number.isFinite)).toBe(true);
    return 'read';
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    expect(error.message).toMatch(/^x\.wav: .{10,}/s);
    return 'refused';
  }
}

describe('damaged WAV files', () => {
  it('are read or refused with a message when any bytes of the header are overwritten', () => {
    const seen = { read: 0, refused: 0 };
    fc.assert(
      fc.property(
        file,
        fc.array(fc.tuple(fc.nat(79), fc.constantFrom(0, 1, 2, 3, 13, 127, 128, 254, 255)), {
          minLength: 1,
          maxLength: 4,
        }),
        (bytes, changes) => {
          const copy = Uint8Array.from(bytes);
          for (const [at, value] of changes) if (at < copy.length) copy[at] = value;
          seen[isReadOrRefused(copy)]++;
        },
      ),
      settings,
    );
    // Both happen, so the property says something about each.
    expect(seen.read).toBeGreaterThan(50);
    expect(seen.refused).toBeGreaterThan(50);
  });

  it('are refused whenever they are cut off, at any byte', () => {
    fc.assert(
      fc.property(file, fc.double({ min: 0, max: 1, noNaN: true }), (bytes, share) => {
        // The last byte may be padding.
        const cut = bytes.slice(0, Math.floor(share * (bytes.length - 2)));
        expect(isReadOrRefused(cut)).toBe('refused');
      }),
      settings,
    );
  });

  it('are read or refused when they are random bytes after a good beginning', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 60 }), fc.uint8Array({ maxLength: 200 }), (keep, rest) => {
        isReadOrRefused(Uint8Array.from([...testWav('pcm16', 1, 20).subarray(0, keep), ...rest]));
      }),
      settings,
    );
  });

  it('made of any chunks in any order are read or refused', () => {
    const chunk = fc.record({
      id: fc.constantFrom('fmt ', 'data', 'fact', 'LIST', 'ds64', 'junk', '\0\0\0\0'),
      size: fc.oneof(fc.nat(64), fc.constantFrom(0xffffffff, 0x7fffffff, 16, 40)),
      body: fc.uint8Array({ maxLength: 48 }),
    });
    fc.assert(
      fc.property(fc.constantFrom('RIFF', 'RF64'), fc.array(chunk, { maxLength: 5 }), (form, chunks) => {
        const text = (s: string) => Array.from(s, (c) => c.charCodeAt(0));
        const u32 = (n: number) => [n & 255, (n >> 8) & 255, (n >> 16) & 255, (n >>> 24) & 255];
        const body = chunks.flatMap(({ id, size, body: b }) => [...text(id), ...u32(size), ...b]);
        isReadOrRefused(Uint8Array.from([...text(form), ...u32(body.length + 4), ...text('WAVE'), ...body]));
      }),
      settings,
    );
  });
});

describe('whole WAV files', () => {
  it('in 64-bit float give back every sample exactly, in any number of channels, at any rate', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 6 }),
        fc.integer({ min: 8000, max: 384_000 }),
        fc.array(fc.double({ noNaN: true, noDefaultInfinity: true }), { minLength: 1, maxLength: 40 }),
        (channelCount, sampleRateHz, values) => {
          const channels = Array.from({ length: channelCount }, (_, c) =>
            Float64Array.from(values, (v) => v / (c + 1)),
          );
          const { bytes } = writeWav({ channels, sampleRateHz, format: 'float64' });
          channels.forEach((channel, c) => {
            expect(readWavChannel(bytes, 'x.wav', c + 1).samples).toEqual(channel);
          });
        },
      ),
      { seed: 42, numRuns: 300 },
    );
  });
});
