import { describe, expect, test } from 'vitest';
import { boundaryLimitDb } from '../../../src/acoustics/boundaryGain.js';
import type { Setup } from '../../../src/acoustics/setup.js';
import { logGrid } from '../../../src/curve/logGrid.js';
import { wallLiftDb } from '../../../src/diagnosis/paths/wallLift.js';

const at = (m: number) => ({ m, toleranceM: 0 });
const setupOf = (...distancesM: readonly number[]): Setup => ({
  temperatureC: 20,
  microphoneDistance: at(3),
  baffleWidthM: 0.1,
  // Walls beside the line from speaker to microphone.
  surfaces: distancesM.map((m, i) => ({
    name: `wall ${i}`,
    speakerDistance: at(m),
    microphoneDistance: at(m),
  })),
  lengthUnit: 'cm',
});
const frequencyHz = logGrid(20, 5000, 24);

describe('wallLiftDb', () => {
  // Against rigid planes the pressure at a given distance doubles with each: Waterhouse 1955, Allison 1974.
  test.each([1, 2] as const)('close to %i rigid planes the bass doubles with each', (planes) => {
    const lift = wallLiftDb(setupOf(...[0.05, 0.06].slice(0, planes)), frequencyHz, 1);
    expect(lift[0]!).toBeCloseTo(boundaryLimitDb(planes).pressureDb, 0);
  });

  test('fades where the wall is farther than the wavelength, and grows with what it sends back', () => {
    const [little, much] = [0.5, 0.9].map((factor) => wallLiftDb(setupOf(1), frequencyHz, factor));
    expect(much![0]!).toBeGreaterThan(little![0]! + 1.2);
    expect(Math.abs(much![frequencyHz.findIndex((f) => f > 3000)]!)).toBeLessThan(1.5);
  });

  test('knows nothing of what a gate leaves out', () => {
    expect(wallLiftDb(setupOf(1), frequencyHz, 0.75, 0.5).every((db) => db === 0)).toBe(true);
    expect(wallLiftDb(setupOf(), frequencyHz, 0.75).every((db) => db === 0)).toBe(true);
  });
});
