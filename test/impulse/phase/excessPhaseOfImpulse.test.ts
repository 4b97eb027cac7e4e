import { describe, expect, it } from 'vitest';
import { logGrid } from '../../../src/curve/logGrid.js';
import { excessPhaseOfImpulse } from '../../../src/impulse/phase/excessPhaseOfImpulse.js';
import { gateImpulse } from '../../../src/impulse/response/gate.js';
import { chainResponse, degrees, echoic, filtered, speaker } from '../digitalSystem.js';

const rate = 48_000;
const grid = logGrid(30, 18_000, 24);

function pulseThrough(filter: (input: Float64Array) => Float64Array, at = 480, length = 24_000) {
  const input = new Float64Array(length);
  input[at] = 1;
  return gateImpulse({ samples: filter(input), sampleRateHz: rate }, at / rate);
}

describe('excessPhaseOfImpulse', () => {
  it('finds no excess in a minimum-phase speaker, and its phase', () => {
    const result = excessPhaseOfImpulse(
      pulseThrough((x) => filtered(speaker(rate), x)),
      { frequencyHz: grid },
    );
    const exact = chainResponse(speaker(rate), rate, grid);
    expect(Math.abs(result.delayS * rate)).toBeLessThan(0.01);
    grid.forEach((_, i) => {
      expect(degrees(result.minimumPhaseRad[i]!, exact.phaseRad[i]!)).toBeLessThan(0.02);
      expect(Math.abs(result.excessPhaseRad[i]!)).toBeLessThan(0.02);
      expect(Math.abs(result.excessGroupDelayS[i]!)).toBeLessThan(5e-6);
    });
  });

  it('finds the group delay of an all-pass in closed form', () => {
    // (a + z⁻¹)/(1 + a·z⁻¹): group delay (1 − a²)/(1 + a² + 2a·cos ω) samples.
    const a = -0.9;
    const allPass = { b0: a, b1: 1, b2: 0, a1: a, a2: 0 };
    const result = excessPhaseOfImpulse(
      pulseThrough((x) => filtered([...speaker(rate), allPass], x)),
      { frequencyHz: grid },
    );
    const exact = grid.map(
      (f) => (1 - a * a) / (1 + a * a + 2 * a * Math.cos((2 * Math.PI * f) / rate)) / rate,
    );
    grid.forEach((f, i) => {
      // An average over 1/24 octave of a curve that bends slowly.
      if (f < 16_000)
        expect(Math.abs(result.excessGroupDelayS[i]! + result.delayS - exact[i]!)).toBeLessThan(6e-6);
    });
    expect(Math.max(...exact) - Math.min(...exact)).toBeGreaterThan(300e-6);
  });

  it('gives the two-tap system [a, 1] its excess group delay (1 − a²)/(1 + 2a·cos ω + a²)', () => {
    const a = 0.8;
    const result = excessPhaseOfImpulse(
      pulseThrough((x) => x.map((v, n) => a * v + (x[n - 1] ?? 0)), 10, 2048),
      { frequencyHz: grid },
    );
    grid.forEach((f, i) => {
      const w = (2 * Math.PI * f) / rate;
      const exact = (1 - a * a) / (1 + 2 * a * Math.cos(w) + a * a);
      // Energy-weighted over 1/24 octave: near the null at half the sample rate that is not the value at the point.
      if (f < 12_000)
        expect(Math.abs((result.excessGroupDelayS[i]! + result.delayS) * rate - exact)).toBeLessThan(
          0.02 * exact,
        );
    });
    // The aliasing of the cepstrum is stated, and small.
    expect(result.minimumPhaseErrorRad).toBeLessThan(5e-3);
  });

  it('tells a null that no equalizer can mend from one that it can', () => {
    const at = (levelDb: number) => {
      const impulse = echoic([], rate, 0.01, [{ delayS: 1e-3, levelDb }]);
      const result = excessPhaseOfImpulse(gateImpulse(impulse, 0.01), { frequencyHz: Float64Array.of(500) });
      return result.excessGroupDelayS[0]! + result.delayS;
    };
    // Echo stronger than the direct sound: 1 ms·(1 − a²)/(1 − a)² = 9 ms with a = 0.8; weaker: none.
    expect(at(20 * Math.log10(1 / 0.8))).toBeGreaterThan(6e-3);
    expect(Math.abs(at(20 * Math.log10(0.8)))).toBeLessThan(0.1e-3);
  });
});
