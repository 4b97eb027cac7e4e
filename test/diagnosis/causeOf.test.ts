import { expect, test } from 'vitest';
import { logGrid } from '../../src/curve/logGrid.js';
import { reflectionCause } from '../../src/diagnosis/causeOf.js';
import type { Feature } from '../../src/diagnosis/detectFeatures.js';
import { describeScene } from '../../src/diagnosis/scene.js';

const frequencyHz = logGrid(20, 20000);
const length = (m: number) => ({ m, toleranceM: 0 });
// By way of the desk √(0.8² + 4 · 0.2 · 0.3) m, 13.8 cm more than straight: adds at 343.2 / 0.138 = 2.49 kHz.
const scene = describeScene({
  curve: { frequencyHz, levelDb: new Float64Array(frequencyHz.length) },
  range: { fromHz: 50, toHz: 20000 },
  setup: {
    temperatureC: 20,
    microphoneDistance: length(0.8),
    surfaces: [{ name: 'desk', speakerDistance: length(0.2), microphoneDistance: length(0.3) }],
    lengthUnit: 'cm',
  },
});
const peakAt = (hz: number): Feature => ({
  kind: 'peak',
  index: frequencyHz.findIndex((f) => f >= hz),
  frequencyHz: hz,
  levelDb: 3,
  widthOctaves: 0.4,
  prominenceDb: 3,
  fromHz: hz / 1.15,
  toHz: hz * 1.15,
});
const causeAt = (hz: number) => reflectionCause(peakAt(hz), { path: 0, lossDb: 1, surface: 'desk' }, scene);

test('a reflection is told with the frequency at which it adds, where that is near', () => {
  const { surface, predictedHz } = causeAt(2230);
  expect(surface).toBe('desk');
  expect(predictedHz).toBeGreaterThan(2450);
  expect(predictedHz).toBeLessThan(2530);
});

test('a prediction three octaves off is none', () => {
  expect(causeAt(226)).toEqual({ type: 'reflection', surface: 'desk' });
});
