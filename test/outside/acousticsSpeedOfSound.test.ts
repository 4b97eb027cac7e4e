import { describe, expect, it } from 'vitest';
import { speedOfSound } from '../../src/acoustics/speedOfSound.js';

describe('speed of sound against ISO 9613-1:1993, A.5', () => {
  // c = 343.2·√((t + 273.15)/293.15), rounded to 0.01 m/s.
  it.each([
    [-10, 325.17],
    [0, 331.29],
    [10, 337.3],
    [20, 343.2],
    [30, 349.0],
  ])('at %d °C it is %d m/s', (temperatureC, expectedMs) => {
    expect(Math.abs(speedOfSound(temperatureC) - expectedMs)).toBeLessThanOrEqual(0.0051);
  });

  it('agrees with the handbook form 331.3·√(1 + t/273.15) within 0.02 m/s', () => {
    for (let t = -20; t <= 45; t += 5) {
      expect(Math.abs(speedOfSound(t) - 331.3 * Math.sqrt(1 + t / 273.15))).toBeLessThan(0.02);
    }
  });
});
