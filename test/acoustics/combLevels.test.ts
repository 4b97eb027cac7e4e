import { describe, expect, it } from 'vitest';
import { combBottomDb, combDepthDb, combRho, combTopDb } from '../../src/acoustics/combLevels.js';

describe('combLevels', () => {
  it('depth is top minus bottom, and combRho undoes it', () => {
    for (let rho = 0; rho < 0.99; rho += 0.07) {
      expect(combDepthDb(rho)).toBeCloseTo(combTopDb(rho) - combBottomDb(rho), 12);
      expect(combRho(combDepthDb(rho))).toBeCloseTo(rho, 12);
    }
  });

  it('a relative reflection of 0.41 makes a dip about 7.5 dB under its neighbours', () => {
    expect(Math.abs(combDepthDb(0.41) - 7.57)).toBeLessThan(0.01);
  });
});
