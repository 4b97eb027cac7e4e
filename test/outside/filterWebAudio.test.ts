import { type AudioNode, type BiquadFilterNode, OfflineAudioContext } from 'node-web-audio-api';
import { describe, expect, it } from 'vitest';
import { bankMaximum } from '../../src/filter/bankMaximum.js';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import { biquadResponse } from '../../src/filter/biquadResponse.js';
import { cookbookCoefficients } from '../../src/filter/cookbookCoefficients.js';
import type { Filter, FilterType } from '../../src/filter/filter.js';
import { filterResponseDb } from '../../src/filter/filterResponseDb.js';

/**
 * Second witness: an independent implementation of the W3C Web Audio API (https://www.w3.org/TR/webaudio/), from
 * the registry as `node-web-audio-api`. Its frequencies, parameters and magnitudes are single precision, so ours are
 * given the very same rounded numbers; a magnitude then carries 2⁻²⁴ relative, 5e-7 dB.
 */
const TOLERANCE_DB = 1e-3;
const RATES_HZ = [44_100, 48_000, 96_000, 192_000];
const FREQUENCIES_HZ = [11, 40, 63.1, 120, 317, 1000, 2345, 8000, 15_000, 20_500];
const GAINS_DB = [-24, -9.3, -3, -0.5, 0.5, 2, 6, 15];
const QS = [0.2, 0.5, Math.SQRT1_2, 1, 2.3, 6, 12, 30];
const SHELF_QS = [0.3, 0.5, 0.6, Math.SQRT1_2, 0.9, 1.3, 3];
const WEB_TYPE: Record<FilterType, 'peaking' | 'lowshelf' | 'highshelf'> = {
  peaking: 'peaking',
  lowShelf: 'lowshelf',
  highShelf: 'highshelf',
};

function probes(sampleRateHz: number): Float32Array<ArrayBuffer> {
  const half = sampleRateHz / 2;
  const points = [0];
  for (let f = 5; f < half; f *= 2 ** (1 / 6)) points.push(f);
  points.push(half);
  return Float32Array.from(points);
}

function levelsDb(magnitude: Float32Array): Float64Array {
  return Float64Array.from(magnitude, (m) => 20 * Math.log10(m));
}

const context = (sampleRateHz: number): OfflineAudioContext => new OfflineAudioContext(1, 128, sampleRateHz);

function nodeResponse(
  node: BiquadFilterNode,
  f: Filter,
  at: Float32Array<ArrayBuffer>,
): [Float64Array, Float32Array] {
  node.type = WEB_TYPE[f.type];
  node.frequency.value = f.frequencyHz;
  node.gain.value = f.gainDb;
  node.Q.value = f.q;
  const magnitude = new Float32Array(at.length);
  const phase = new Float32Array(at.length);
  node.getFrequencyResponse(at, magnitude, phase);
  return [levelsDb(magnitude), phase];
}

function largestGap(a: Float64Array, b: Float64Array): number {
  return a.reduce((worst, level, i) => Math.max(worst, Math.abs(level - b[i]!)), 0);
}

const single = (f: Filter): Filter => ({
  type: f.type,
  frequencyHz: Math.fround(f.frequencyHz),
  gainDb: Math.fround(f.gainDb),
  q: Math.fround(f.q),
});

describe.each(RATES_HZ)('at %i Hz an independent Web Audio implementation', (sampleRateHz) => {
  it('has the same peaking filters over frequency, gain and Q, in level and phase', () => {
    const at = probes(sampleRateHz);
    const node = context(sampleRateHz).createBiquadFilter();
    let cases = 0;
    for (const frequencyHz of FREQUENCIES_HZ) {
      for (const gainDb of GAINS_DB) {
        for (const q of QS) {
          const f = single({ type: 'peaking', frequencyHz, gainDb, q });
          const [theirs, theirPhase] = nodeResponse(node, f, at);
          const ours = filterResponseDb(f, sampleRateHz, Float64Array.from(at));
          expect(largestGap(ours, theirs), JSON.stringify(f)).toBeLessThan(TOLERANCE_DB);
          const { phaseRad } = biquadResponse(
            cookbookCoefficients(f, sampleRateHz),
            sampleRateHz,
            Float64Array.from(at),
          );
          expect(largestGap(phaseRad, Float64Array.from(theirPhase)), JSON.stringify(f)).toBeLessThan(1e-4);
          cases += 1;
        }
      }
    }
    expect(cases).toBe(640);
  });

  it('has the same shelves of slope S = 1, the one it knows: Q = 1/√2', () => {
    const at = probes(sampleRateHz);
    const node = context(sampleRateHz).createBiquadFilter();
    for (const type of ['lowShelf', 'highShelf'] as const) {
      for (const frequencyHz of FREQUENCIES_HZ) {
        for (const gainDb of GAINS_DB) {
          const f = { ...single({ type, frequencyHz, gainDb, q: 1 }), q: Math.SQRT1_2 };
          const [theirs] = nodeResponse(node, f, at);
          const ours = filterResponseDb(f, sampleRateHz, Float64Array.from(at));
          expect(largestGap(ours, theirs), JSON.stringify(f)).toBeLessThan(TOLERANCE_DB);
        }
      }
    }
  });

  it('gives our coefficients of shelves of any Q the closed form as their response', () => {
    const at = probes(sampleRateHz);
    const audio = context(sampleRateHz);
    for (const type of ['lowShelf', 'highShelf'] as const) {
      for (const frequencyHz of FREQUENCIES_HZ) {
        for (const [gainDb, q] of GAINS_DB.flatMap((g) => SHELF_QS.map((x) => [g, x] as const))) {
          const f: Filter = { type, frequencyHz, gainDb, q };
          const { b0, b1, b2, a1, a2 } = cookbookCoefficients(f, sampleRateHz);
          const node = audio.createIIRFilter([b0, b1, b2], [1, a1, a2]);
          const magnitude = new Float32Array(at.length);
          node.getFrequencyResponse(at, magnitude, new Float32Array(at.length));
          const ours = filterResponseDb(f, sampleRateHz, Float64Array.from(at));
          expect(largestGap(ours, levelsDb(magnitude)), JSON.stringify(f)).toBeLessThan(TOLERANCE_DB);
        }
      }
    }
  });
});

describe('a Web Audio implementation', () => {
  it('shows the published example of a peaking filter, as ours does', () => {
    // Peaking, 1 kHz, 6 dB, Q 2, fs 48 kHz. Source: W3C Web Audio API, BiquadFilterNode, as run.
    const f: Filter = { type: 'peaking', frequencyHz: 1000, gainDb: 6, q: 2 };
    const at = Float32Array.of(500, 900, 1000, 1200, 2000);
    const published = [0.63228, 5.04598, 6.0, 3.86116, 0.62632];
    const [theirs] = nodeResponse(context(48_000).createBiquadFilter(), f, at);
    const ours = filterResponseDb(f, 48_000, Float64Array.from(at));
    published.forEach((level, i) => {
      // Five printed decimals of a single-precision magnitude.
      expect(Math.abs(theirs[i]! - level)).toBeLessThan(1.1e-5);
      expect(Math.abs(ours[i]! - level)).toBeLessThan(1.1e-5);
    });
  });

  it('renders an impulse through a whole bank to the response we predict for their product', async () => {
    const sampleRateHz = 48_000;
    const bank: Filter[] = [
      { type: 'peaking', frequencyHz: 90, gainDb: -6.5, q: 4 },
      { type: 'peaking', frequencyHz: 1400, gainDb: 3, q: 1.2 },
      { type: 'lowShelf', frequencyHz: 160, gainDb: 4, q: Math.SQRT1_2 },
      { type: 'highShelf', frequencyHz: 7000, gainDb: -2.5, q: Math.SQRT1_2 },
    ];
    const length = 32_768;
    const audio = new OfflineAudioContext(1, length, sampleRateHz);
    const impulse = audio.createBuffer(1, length, sampleRateHz);
    impulse.copyToChannel(Float32Array.of(1), 0);
    const source = audio.createBufferSource();
    source.buffer = impulse;
    let chain: AudioNode = source;
    for (const f of bank) {
      const node = audio.createBiquadFilter();
      node.type = WEB_TYPE[f.type];
      node.frequency.value = f.frequencyHz;
      node.gain.value = f.gainDb;
      node.Q.value = f.q;
      chain.connect(node);
      chain = node;
    }
    chain.connect(audio.destination);
    source.start();
    const rendered = (await audio.startRendering()).getChannelData(0);

    const frequencyHz = Float64Array.of(20, 60, 90, 100, 160, 300, 1000, 1400, 3000, 7000, 15_000, 23_000);
    const predicted = bankResponseDb(bank, sampleRateHz, frequencyHz);
    frequencyHz.forEach((hz, i) => {
      let re = 0;
      let im = 0;
      for (let n = 0; n < length; n += 1) {
        const angle = (2 * Math.PI * hz * n) / sampleRateHz;
        re += rendered[n]! * Math.cos(angle);
        im -= rendered[n]! * Math.sin(angle);
      }
      expect(Math.abs(20 * Math.log10(Math.hypot(re, im)) - predicted[i]!)).toBeLessThan(TOLERANCE_DB);
    });
    expect(bankMaximum(bank, sampleRateHz).maxDb).toBeGreaterThan(Math.max(...predicted) - 1e-9);
  });
});
