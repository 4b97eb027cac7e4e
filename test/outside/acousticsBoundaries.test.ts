import { describe, expect, it } from 'vitest';
import { boundaryLimitDb, boundaryPowerDb } from '../../src/acoustics/boundaryGain.js';

// R. V. Waterhouse, "Output of a sound source in a reverberation chamber and other reflecting environments",
// JASA 27 (1955); R. F. Allison, "The influence of room boundaries on loudspeaker power output", JAES 22 (1974).
// Values computed from their formulas: 1 + j(u); 1 + 2j(u) + j(√2u); 1 + 3j(u) + 3j(√2u) + j(√3u), u = 4πx/λ.
const c = 343.2;
const atWavelengths = (x: number, planes: number) => boundaryPowerDb(c * x, new Array(planes).fill(1), c);

describe('power of a source near planes (Waterhouse 1955, Allison 1974)', () => {
  it.each([
    [0.05, 2.868],
    [0.1, 2.447],
    [0.2, 0.913],
    [0.25, 0],
    [0.3, -0.736],
    [0.4, -0.911],
  ])('one plane at %d wavelengths: %d dB', (x, expectedDb) => {
    expect(Math.abs(atWavelengths(x, 1) - expectedDb)).toBeLessThan(6e-4);
  });

  it.each([
    [0.05, 8.598],
    [0.1, 7.243],
    [0.2, 0.599],
    [0.3, -9.533],
    [0.4, -0.872],
  ])('three planes at %d wavelengths: %d dB', (x, expectedDb) => {
    expect(Math.abs(atWavelengths(x, 3) - expectedDb)).toBeLessThan(6e-4);
  });

  it('three planes: 0 dB is crossed at 0.2054 wavelengths', () => {
    expect(atWavelengths(0.20535, 3)).toBeGreaterThan(0);
    expect(atWavelengths(0.20545, 3)).toBeLessThan(0);
  });

  it.each([
    [1, 0.358, -1.06],
    [2, 0.319, -2.86],
    [3, 0.281, -11.4],
  ])('%d plane(s): the first minimum lies at %d wavelengths, %d dB', (planes, expectedX, expectedDb) => {
    let best = { x: 0, levelDb: 0 };
    for (let x = 0.1; x < 0.5; x += 1e-4) {
      const levelDb = atWavelengths(x, planes);
      if (levelDb < best.levelDb) best = { x, levelDb };
    }
    expect(Math.abs(best.x - expectedX)).toBeLessThan(6e-4);
    expect(Math.abs(best.levelDb - expectedDb)).toBeLessThan(planes === 3 ? 0.05 : 0.006);
  });

  it('close against one, two, three planes power rises by 3, 6, 9 dB and pressure by 6, 12, 18 dB', () => {
    for (const planes of [1, 2, 3] as const) {
      expect(atWavelengths(1e-5, planes)).toBeCloseTo(planes * 3.0103, 4);
      expect(boundaryLimitDb(planes).powerDb).toBeCloseTo(planes * 3.0103, 4);
      expect(boundaryLimitDb(planes).pressureDb).toBeCloseTo(planes * 6.0206, 4);
    }
  });
});
