import { describe, expect, it } from 'vitest';
import { cookbookCoefficients } from '../../src/filter/cookbookCoefficients.js';
import type { BiquadCoefficients, Filter } from '../../src/filter/filter.js';
import { filterResponseDb } from '../../src/filter/filterResponseDb.js';
import { filterFromSetting, type QConventionName, settingFromFilter } from '../../src/filter/qConventions.js';
import { qFromShelfSlope } from '../../src/filter/shelfSlope.js';

const SAMPLE_RATE_HZ = 48_000;
const GAINS_DB = [-15, -6, -3.5, 3.5, 6, 15];

function made(
  name: QConventionName,
  frequencyHz: number,
  gainDb: number,
  setting: number,
): BiquadCoefficients {
  const filter = filterFromSetting({ type: 'peaking', frequencyHz, gainDb }, setting, name, SAMPLE_RATE_HZ);
  return cookbookCoefficients(filter!, SAMPLE_RATE_HZ);
}

function expectEqual(ours: BiquadCoefficients, theirs: BiquadCoefficients): void {
  for (const name of ['b0', 'b1', 'b2', 'a1', 'a2'] as const) {
    expect(Math.abs(ours[name] - theirs[name]), name).toBeLessThan(1e-12);
  }
}

// The books were not at hand: their formulas are given from memory.
describe('conventions of Q against the designs of their own literature', () => {
  /**
   * Orfanidis, Introduction to Signal Processing, ch. 11.4, parametric equalizer with reference gain 1, centre gain G
   * and bandwidth Δω at the gain GB: β = √((GB² − 1)/(G² − GB²))·tan(Δω/2).
   */
  function orfanidis(w0: number, deltaW: number, G: number, GBsquared: number): BiquadCoefficients {
    const beta = Math.sqrt((GBsquared - 1) / (G * G - GBsquared)) * Math.tan(deltaW / 2);
    return {
      b0: (1 + G * beta) / (1 + beta),
      b1: (-2 * Math.cos(w0)) / (1 + beta),
      b2: (1 - G * beta) / (1 + beta),
      a1: (-2 * Math.cos(w0)) / (1 + beta),
      a2: (1 - beta) / (1 + beta),
    };
  }

  it.each([
    ['half the gain in dB (geometric mean)', 'bandwidthHz', (G: number) => G],
    ['3 dB short of the extreme', 'threeDbQ', (G: number) => (G > 1 ? (G * G) / 2 : 2 * G * G)],
    ['3 dB from flat', 'threeDbFromFlatQ', (G: number) => (G > 1 ? 2 : 1 / 2)],
  ] as const)('bandwidth at %s makes the filter of Orfanidis', (_, name, edgePower) => {
    for (const frequencyHz of [45, 700, 9000]) {
      for (const gainDb of GAINS_DB) {
        const w0 = (2 * Math.PI * frequencyHz) / SAMPLE_RATE_HZ;
        const deltaW = w0 / 1.9;
        const setting = name === 'bandwidthHz' ? frequencyHz / 1.9 : 1.9;
        const G = 10 ** (gainDb / 20);
        expectEqual(made(name, frequencyHz, gainDb, setting), orfanidis(w0, deltaW, G, edgePower(G)));
      }
    }
  });

  it('poleQ makes the filter of Regalia and Mitra for boost and for cut', () => {
    // IEEE Trans. ASSP 35 (1987): H = ½ (1 + A(z)) + K/2 (1 − A(z)), A(z) = (a − c(1+a) z⁻¹ + z⁻²)/(1 − c(1+a) z⁻¹ + a z⁻²),
    // a = (1 − tan(Ω/2))/(1 + tan(Ω/2)), c = cos ω0; the pole bandwidth Ω stays while K moves.
    for (const frequencyHz of [45, 700, 9000]) {
      for (const gainDb of GAINS_DB) {
        const w0 = (2 * Math.PI * frequencyHz) / SAMPLE_RATE_HZ;
        const q = 2.6;
        const t = Math.sin(w0) / (2 * q);
        const a = (1 - t) / (1 + t);
        const K = 10 ** (gainDb / 20);
        const c = Math.cos(w0);
        expectEqual(made('poleQ', frequencyHz, gainDb, q), {
          b0: 0.5 * (1 + a) + 0.5 * K * (1 - a),
          b1: -c * (1 + a),
          b2: 0.5 * (1 + a) - 0.5 * K * (1 - a),
          a1: -c * (1 + a),
          a2: a,
        });
      }
    }
  });

  it('poleQMirrored makes the second-order peak filters of DAFX', () => {
    // Zölzer (ed.), DAFX: Digital Audio Effects, ch. 2, peak filter, boost and cut; K = tan(π fc/fs), V0 = 10^(|G|/20).
    for (const frequencyHz of [45, 700, 9000]) {
      for (const gainDb of GAINS_DB) {
        const q = 2.6;
        const K = Math.tan((Math.PI * frequencyHz) / SAMPLE_RATE_HZ);
        const V0 = 10 ** (Math.abs(gainDb) / 20);
        const plain = [1 + K / q + K * K, 2 * (K * K - 1), 1 - K / q + K * K] as const;
        const raised = [1 + (V0 / q) * K + K * K, 2 * (K * K - 1), 1 - (V0 / q) * K + K * K] as const;
        const [b, a] = gainDb > 0 ? [raised, plain] : [plain, raised];
        expectEqual(made('poleQMirrored', frequencyHz, gainDb, q), {
          b0: b[0] / a[0],
          b1: b[1] / a[0],
          b2: b[2] / a[0],
          a1: a[1] / a[0],
          a2: a[2] / a[0],
        });
      }
    }
  });

  it('fractional octaves have the Q of their band edges', () => {
    // IEC 61260-1: edges of a 1/b-octave band at fm·G^(±1/(2b)); with G = 2 that is Q = 1/(2^(1/2b) − 2^(−1/2b)),
    // 1 octave √2, 1/2 2.871, 1/3 4.318, 1/6 8.651, 1/12 17.310; 2 octaves 0.667.
    const peak = (q: number): Filter => ({ type: 'peaking', frequencyHz: 1000, gainDb: 4, q });
    for (const [bandwidth, q] of [
      [2, 0.667],
      [1, Math.SQRT2],
      [1 / 2, 2.871],
      [1 / 3, 4.318],
      [1 / 6, 8.651],
      [1 / 12, 17.31],
    ] as const) {
      const edge = 2 ** (bandwidth / 2);
      const byEdges = 1 / (edge - 1 / edge);
      expect(byEdges).toBeCloseTo(q, 3);
      expect(settingFromFilter(peak(byEdges), 'bandwidthOctavesAnalog', SAMPLE_RATE_HZ)).toBeCloseTo(
        bandwidth,
        12,
      );
    }
  });

  it('the steepness of a shelf in dB per octave is proportional to its slope S, as the Note says', () => {
    const steepness = (type: 'lowShelf' | 'highShelf', slope: number, gainDb: number): number => {
      const f: Filter = { type, frequencyHz: 300, gainDb, q: qFromShelfSlope(slope, gainDb) };
      const step = 2 ** (1 / 2000);
      const [below, above] = filterResponseDb(f, SAMPLE_RATE_HZ, Float64Array.of(300 / step, 300 * step));
      return (above! - below!) * 1000;
    };
    for (const type of ['lowShelf', 'highShelf'] as const) {
      for (const gainDb of [-12, 3, 9]) {
        const unit = steepness(type, 1, gainDb);
        expect(Math.sign(unit)).toBe(type === 'lowShelf' ? -Math.sign(gainDb) : Math.sign(gainDb));
        for (const slope of [0.3, 0.6, 1.2])
          expect(steepness(type, slope, gainDb) / unit).toBeCloseTo(slope, 5);
      }
    }
  });
});
