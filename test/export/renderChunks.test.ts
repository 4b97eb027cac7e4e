import { describe, expect, test } from 'vitest';
import { renderWav } from '../../src/export/audio/renderWav.js';
import { renderText } from '../../src/export/text/renderText.js';
import { InputError } from '../../src/inputError.js';
import { readWavChannel } from '../../src/measurement/wavFile.js';
import { readWavHeader } from '../../src/measurement/wavHeader.js';
import { writeWav } from '../../src/measurement/wavWriter.js';

const design = { sampleRateHz: 48000, inputGainDb: 0, filters: [] };
const ascii = (text: string) => Uint8Array.from(text, (c) => c.charCodeAt(0));

/** One chunk, padded to even length: RIFF, Multimedia Programming Interface and Data Specifications 1.0, 1991. */
function chunk(id: string, content: Uint8Array): Uint8Array {
  const bytes = new Uint8Array(8 + content.length + (content.length % 2));
  bytes.set(ascii(id));
  new DataView(bytes.buffer).setUint32(4, content.length, true);
  bytes.set(content, 8);
  return bytes;
}

const join = (...parts: readonly Uint8Array[]) => Uint8Array.from(parts.flatMap((part) => Array.from(part)));
const info = chunk('LIST', join(ascii('INFO'), chunk('INAM', ascii('A simulated tune\0'))));
const cue = chunk('cue ', Uint8Array.of(0, 0, 0, 0));
const loudness = chunk('bext', new Uint8Array(33).fill(1));

/** A WAV file with chunks ahead of and after its samples. */
function wavWith(ahead: readonly Uint8Array[], behind: readonly Uint8Array[], samples: Float64Array) {
  const plain = writeWav({ channels: [samples], sampleRateHz: 48000, format: 'pcm24' }).bytes;
  const file = join(plain.subarray(0, 36), ...ahead, plain.subarray(36), ...behind);
  new DataView(file.buffer).setUint32(4, file.length - 8, true);
  return file;
}

/** All chunks of a file by its own sizes. */
function chunksOf(file: Uint8Array): Map<string, Uint8Array> {
  const found = new Map<string, Uint8Array>();
  const view = new DataView(file.buffer, file.byteOffset);
  let at = 12;
  while (at < file.length) {
    const size = view.getUint32(at + 4, true);
    found.set(String.fromCharCode(...file.subarray(at, at + 4)), file.subarray(at, at + 8 + size));
    at += 8 + size + (size % 2);
  }
  expect(at).toBe(file.length);
  return found;
}

const sine = (count: number, size: number) =>
  Float64Array.from({ length: count }, (_, i) => size * Math.sin((2 * Math.PI * 997 * i) / 48000));

describe('what else stands in a WAV file', () => {
  test.each([
    ['ahead of the samples', [info, loudness, cue], []],
    ['after an odd number of bytes', [], [info, loudness, cue]],
  ])('texts and marks are taken over, levels are not: %s', (_, ahead, behind) => {
    const { bytes, report } = renderWav(design, wavWith(ahead, behind, sine(1001, 0.5)), 'in.wav');
    const chunks = chunksOf(bytes);
    expect([...chunks.keys()]).toEqual(['fmt ', 'data', 'LIST', 'cue ']);
    expect(Array.from(chunks.get('LIST')!)).toEqual(Array.from(info.subarray(0, chunks.get('LIST')!.length)));
    expect(readWavHeader(bytes, 'out.wav')).toMatchObject({ frameCount: 1001, warnings: [] });
    expect(report).toMatchObject({ keptChunks: ['LIST/INFO', 'cue'], droppedChunks: ['bext'] });
    const text = renderText(report, 'out.wav');
    expect(text).toContain('Taken over: LIST/INFO, cue.');
    expect(text).toMatch(/no longer be true: bext\./);
  });

  test('a last chunk that is cut off harms nothing', () => {
    const file = wavWith([], [info.subarray(0, 20)], sine(1000, 0.5));
    const { bytes, report } = renderWav(design, file, 'in.wav');
    expect([...chunksOf(bytes).keys()]).toEqual(['fmt ', 'data']);
    expect(report.keptChunks).toEqual([]);
  });
});

describe('dither', () => {
  const quiet = sine(96_000, 0.4 / 32768);
  const render = (kind: 'none' | 'triangular', samples = quiet) =>
    renderWav(design, wavWith([], [], samples), 'in.wav', 'pcm16', kind);
  const steps = (bytes: Uint8Array) =>
    readWavChannel(bytes, 'out.wav', 1).samples.map((value) => Math.round(value * 32768));

  test('keeps a tone below half a step, which plain rounding loses', () => {
    expect(steps(render('none').bytes).every((step) => step === 0)).toBe(true);
    const heard = steps(render('triangular').bytes);
    // Its share in phase: mean of twice the product with the tone of size 1.
    const tone = sine(96_000, 1);
    const size = heard.reduce((sum, step, i) => sum + (2 * step * tone[i]!) / tone.length, 0);
    expect(Math.abs(size - 0.4)).toBeLessThan(0.02);
  });

  // Power of the whole error: 1/12 + 2/12 = a quarter of a step squared, whatever the level (Lipshitz et al. 1992).
  test.each([0, 0.25, 0.5])('leaves an error of a quarter of a step squared at %f of a step', (offset) => {
    const held = new Float64Array(96_000).fill(offset / 32768);
    const errors = steps(render('triangular', held).bytes).map((step) => step - offset);
    const mean = errors.reduce((sum, e) => sum + e, 0) / errors.length;
    const power = errors.reduce((sum, e) => sum + e * e, 0) / errors.length;
    expect(Math.abs(mean)).toBeLessThan(0.01);
    expect(Math.abs(power - 0.25)).toBeLessThan(0.01);
  });

  test('is the same each time, and not the same in two channels', () => {
    expect(render('triangular').bytes).toEqual(render('triangular').bytes);
    const stereo = writeWav({ channels: [quiet, quiet], sampleRateHz: 48000, format: 'pcm24' }).bytes;
    const { bytes } = renderWav(design, stereo, 'in.wav', 'pcm16', 'triangular');
    const [left, right] = [1, 2].map((channel) => readWavChannel(bytes, 'out.wav', channel).samples.slice());
    expect(left!.some((value, i) => value !== right![i])).toBe(true);
  });

  test('is said in the report, and refused where nothing is rounded', () => {
    expect(renderText(render('none').report, 'out.wav')).toContain('without dither (--dither triangular');
    expect(renderText(render('triangular').report, 'out.wav')).toContain('with triangular dither');
    const float = () => renderWav(design, wavWith([], [], quiet), 'in.wav', 'float32', 'triangular');
    expect(float).toThrow(InputError);
    expect(float).toThrow(/--dither: found triangular with float32/);
  });
});
