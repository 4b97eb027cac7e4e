import { describe, expect, it } from 'vitest';
import { baffleStepHz, sphereStepDb } from '../../src/acoustics/sphereBaffle.js';

describe('point source on a rigid sphere (Morse, Vibration and Sound; Olson 1951)', () => {
  // Level on the axis over the low-frequency level; series solution, computed to 0.001 dB.
  it.each([
    [0.1, 0.007],
    [0.2, 0.044],
    [0.3, 0.149],
    [0.5, 0.708],
    [0.7, 1.683],
    [1, 3.036],
    [1.5, 3.652],
    [2, 4.407],
    [3, 4.981],
    [5, 5.456],
    [10, 5.832],
  ])('at ka = %d the step has risen by %d dB', (ka, expectedDb) => {
    expect(Math.abs(sphereStepDb(ka) - expectedDb)).toBeLessThan(6e-4);
  });

  it('goes from 0 to +6 dB', () => {
    expect(sphereStepDb(1e-3)).toBeCloseTo(0, 4);
    expect(Math.abs(sphereStepDb(60) - 20 * Math.log10(2))).toBeLessThan(0.03);
  });

  it('has risen by 3 dB at ka = 0.99, that is where frequency times width is 108 m/s', () => {
    for (const widthM of [0.13, 0.17, 0.3]) {
      const stepHz = baffleStepHz(widthM, 343.2);
      expect(Math.abs(stepHz * widthM - 108)).toBeLessThan(0.5);
      expect(sphereStepDb((Math.PI * stepHz * widthM) / 343.2)).toBeCloseTo(3, 3);
      // Rule of the workshop, f3 ≈ 115/width: common practice, no published source.
      expect(Math.abs(stepHz / (115 / widthM) - 1)).toBeLessThan(0.07);
    }
  });
});
