import { describe, expect, test } from 'vitest';
import { exportDesign } from '../../../src/export/exportDesign.js';
import { bankResponseDb } from '../../../src/filter/bankResponseDb.js';
import { inputGainDb } from '../../../src/filter/inputGainDb.js';
import { sampleDesign } from '../sampleDesign.js';

const design = sampleDesign();
const checkedHz = [20, 40, 63.6, 81.6, 119, 300, 554.8, 670.5, 1000, 3312, 8226, 15000, 20000];

/** Samples of a WAV file of 32-bit floats with one channel. */
function samplesOf(bytes: Uint8Array): { sampleRateHz: number; samples: Float32Array } {
  const view = new DataView(bytes.buffer, bytes.byteOffset);
  const dataAt = new TextDecoder('latin1').decode(bytes).indexOf('data');
  const length = view.getUint32(dataAt + 4, true) / 4;
  const samples = Float32Array.from({ length }, (_, n) => view.getFloat32(dataAt + 8 + 4 * n, true));
  return { sampleRateHz: view.getUint32(24, true), samples };
}

function levelDb(samples: Float32Array, w: number): number {
  let re = 0;
  let im = 0;
  samples.forEach((v, n) => {
    re += v * Math.cos(w * n);
    im -= v * Math.sin(w * n);
  });
  return 20 * Math.log10(Math.hypot(re, im));
}

describe.each(['fir-minimum-phase', 'fir-linear-phase'])('%s', (format) => {
  test('is within 0.01 dB of the closed form, input gain included, at every rate', () => {
    const request = { format, taps: 32768, sampleRate: [44100, 48000] };
    const { files, notes } = exportDesign(design, request, (field) => field);
    expect(files.map(({ suffix }) => suffix)).toEqual(['-44100', '-48000']);
    expect(notes).toHaveLength(2);
    for (const { content } of files) {
      const { sampleRateHz, samples } = samplesOf(content as Uint8Array);
      expect(samples).toHaveLength(32768);
      const exact = bankResponseDb(design.filters, sampleRateHz, Float64Array.from(checkedHz));
      const gainDb = inputGainDb(design.filters, sampleRateHz);
      checkedHz.forEach((hz, i) => {
        const reached = levelDb(samples, (2 * Math.PI * hz) / sampleRateHz);
        expect(Math.abs(reached - exact[i]! - gainDb)).toBeLessThan(0.01);
      });
    }
  });

  test('says how far a short filter is off, and that is how far it is', () => {
    const request = { format, taps: 512 };
    const { files, notes } = exportDesign(design, request, (field) => field);
    const { samples } = samplesOf(files[0]!.content as Uint8Array);
    const stated = Number(/at most ([\d.]+) dB/.exec(notes[0]!)![1]);
    const exact = bankResponseDb(design.filters, 48000, Float64Array.from(checkedHz));
    const off = checkedHz.map((hz, i) =>
      Math.abs(levelDb(samples, (2 * Math.PI * hz) / 48000) - exact[i]! - design.inputGainDb),
    );
    expect(stated).toBeGreaterThan(0.5);
    expect(Math.max(...off)).toBeLessThan(stated + 0.02);
    expect(Math.max(...off)).toBeGreaterThan(stated / 4);
  });

  test('says how far it is off beside a sharp peak at low frequency, between the points of any transform', () => {
    const sharp = {
      ...design,
      sampleRateHz: 44100,
      inputGainDb: -12,
      filters: [{ type: 'peaking' as const, frequencyHz: 30, gainDb: 12, q: 10 }],
    };
    const { files, notes } = exportDesign(sharp, { format, taps: 16384 }, (field) => field);
    const { samples } = samplesOf(files[0]!.content as Uint8Array);
    const hz = Float64Array.from({ length: 800 }, (_, i) => 20 + i / 40);
    const exact = bankResponseDb(sharp.filters, 44100, hz);
    const off = [...hz].map((f, i) => Math.abs(levelDb(samples, (2 * Math.PI * f) / 44100) - exact[i]! + 12));
    const stated = Number(/at most ([\d.]+) dB/.exec(notes[0]!)![1]);
    const found = Math.max(...off);
    expect(found).toBeGreaterThan(0.01);
    expect(Math.abs(stated / found - 1)).toBeLessThan(0.03);
  });
});
