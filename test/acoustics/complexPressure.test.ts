import { describe, expect, it } from 'vitest';
import { multiplyPressure, pressurePhaseRad } from '../../src/acoustics/complexPressure.js';

describe('complexPressure', () => {
  it('unwraps the phase of a pure delay into a straight line', () => {
    const f = Float64Array.from({ length: 500 }, (_, i) => 10 + 7 * i);
    const delayS = 0.02;
    const phase = f.map((hz) => -2 * Math.PI * hz * delayS);
    const unwrapped = pressurePhaseRad({ re: phase.map(Math.cos), im: phase.map(Math.sin) });
    const start = unwrapped[0]! - phase[0]!;
    expect(Math.abs(start / (2 * Math.PI) - Math.round(start / (2 * Math.PI)))).toBeLessThan(1e-9);
    for (const [i, p] of unwrapped.entries()) expect(p - phase[i]!).toBeCloseTo(start, 8);
  });

  it('multiplies as complex numbers', () => {
    const { re, im } = multiplyPressure(
      { re: Float64Array.of(1, 2), im: Float64Array.of(2, -1) },
      { re: Float64Array.of(3, 0), im: Float64Array.of(-1, 4) },
    );
    expect([...re]).toEqual([5, 4]);
    expect([...im]).toEqual([5, 8]);
  });
});
