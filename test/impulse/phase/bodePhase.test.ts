import { describe, expect, it } from 'vitest';
import { bodePhase, bodeWeightIntegral } from '../../../src/impulse/phase/bodePhase.js';

describe('bodeWeightIntegral', () => {
  it('agrees with Simpson integration of ln coth(|v|/2) between 0.05 and 6, across its change of series', () => {
    const n = 60_000;
    const [from, to] = [0.05, 6];
    const h = (to - from) / n;
    const weight = (v: number) => -Math.log(Math.tanh(v / 2));
    let sum = weight(from) + weight(to);
    for (let i = 1; i < n; i++) sum += (i % 2 === 1 ? 4 : 2) * weight(from + i * h);
    expect(bodeWeightIntegral(to) - bodeWeightIntegral(from)).toBeCloseTo((sum * h) / 3, 11);
    expect(bodeWeightIntegral(0.3 - 1e-12)).toBeCloseTo(bodeWeightIntegral(0.3 + 1e-12), 10);
  });

  it('is odd and ends at a quarter of π squared', () => {
    expect(bodeWeightIntegral(-0.7)).toBe(-bodeWeightIntegral(0.7));
    expect(bodeWeightIntegral(0)).toBe(0);
    expect(bodeWeightIntegral(40)).toBeCloseTo(Math.PI ** 2 / 4, 14);
  });
});

describe('bodePhase', () => {
  it('turns a constant slope of n times 20 dB per decade into n quarter turns everywhere', () => {
    const step = 0.05;
    const slope = -2;
    const logMagnitude = Float64Array.from({ length: 200 }, (_, i) => slope * step * i);
    for (const phase of bodePhase(logMagnitude, step, { below: slope, above: slope }))
      expect(phase).toBeCloseTo(-Math.PI, 12);
  });

  it('gives the closed-form phase of a second-order low pass', () => {
    // H = 1/(1 − x² + i·x/Q), x = f/f₀, straight 12 dB per octave beyond the ends; grid of 96 per octave.
    const q = 1.3;
    const step = Math.LN2 / 96;
    const n = 96 * 16 + 1;
    const x = Float64Array.from({ length: n }, (_, i) => Math.exp((i - (n - 1) / 2) * step));
    const logMagnitude = x.map((v) => -0.5 * Math.log((1 - v * v) ** 2 + (v / q) ** 2));
    const phase = bodePhase(logMagnitude, step, { below: 0, above: -2 });
    phase.forEach((value, i) => {
      const exact = -Math.atan2(x[i]! / q, 1 - x[i]! ** 2);
      // Straight segments of 1/96 octave under a curvature of Q = 1.3 leave less than a hundredth of a degree.
      expect(Math.abs(value - exact)).toBeLessThan(0.01 * (Math.PI / 180));
    });
  });
});
