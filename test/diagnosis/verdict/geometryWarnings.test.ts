import { expect, test } from 'vitest';
import type { Surface } from '../../../src/acoustics/setup.js';
import { logGrid } from '../../../src/curve/logGrid.js';
import { describeScene } from '../../../src/diagnosis/scene/scene.js';
import { geometryWarnings } from '../../../src/diagnosis/verdict/geometryWarnings.js';

const frequencyHz = logGrid(20, 20000);
const length = (m: number) => ({ m, toleranceM: 0.01 });
/** One reflection 0.58 m longer, half as strong (simulated). */
const levelDb = frequencyHz.map((hz) => {
  const phase = (2 * Math.PI * hz * 0.58) / 343.2;
  return 10 * Math.log10(1 + 0.25 + Math.cos(phase));
});
const warningsWith = (speakerM: number, microphoneM: number) => {
  const surface: Surface = {
    name: 'desk',
    speakerDistance: length(speakerM),
    microphoneDistance: length(microphoneM),
  };
  const setup = {
    temperatureC: 20,
    microphoneDistance: length(1),
    surfaces: [surface],
    lengthUnit: 'cm',
  } as const;
  return geometryWarnings(
    describeScene({ curve: { frequencyHz, levelDb }, range: { fromHz: 50, toHz: 20000 }, setup }),
  );
};

// A longer way of 0.58 m at 1 m asks for hs·hm = 0.58·(0.58 + 2)/4 = 0.3741 m² (image source, Allen & Berkley 1979).
test('a desk at distances that do not fit the curve is told with where it fits', () => {
  const [warning] = warningsWith(0.35, 0.7);
  expect(warning?.code).toBe('geometry-disagrees');
  const fitsCm = Number(/at ([\d.]+) cm/.exec(warning!.message)?.[1]);
  const byScaleCm = 100 * 0.35 * Math.sqrt(0.3741 / (0.35 * 0.7));
  expect(Math.abs(fitsCm - byScaleCm)).toBeLessThan(2.5);
  expect(warningsWith(0.61, 0.61)).toEqual([]);
});

test.each([
  ['the microphone lies on', 0.2, 0],
  ['the speaker is let into', 0, 0.2],
  ['both lie on', 0, 0],
])('of a plane that %s no other distance is told: at none does it send sound a longer way', (_, hs, hm) => {
  expect(warningsWith(hs, hm)).toEqual([]);
});
