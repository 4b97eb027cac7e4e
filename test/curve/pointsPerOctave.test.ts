import { expect, test } from 'vitest';
import { logGrid } from '../../src/curve/logGrid.js';
import { pointsPerOctave } from '../../src/curve/pointsPerOctave.js';

test.each([1, 3, 12, 48])('an even spacing on log frequency is what it is (%i)', (perOctave) => {
  expect(pointsPerOctave(logGrid(20, 20000, perOctave), 45, 16000)).toBeCloseTo(perOctave, 6);
});

test('an even spacing in hertz is judged in the middle of the octaves, not where most of its points are', () => {
  const frequencyHz = Float64Array.from({ length: 4000 }, (_, i) => 5 * (i + 1));
  // From 80 to 5120 Hz half of the octaves lie above 640 Hz: 5 Hz there are log2(645/640) octaves.
  expect(pointsPerOctave(frequencyHz, 80, 5120)).toBeCloseTo(1 / Math.log2(645 / 640), 6);
});

test('points outside the span do not count', () => {
  const dense = logGrid(1000, 2000, 96).filter((hz) => hz > 1000);
  const frequencyHz = Float64Array.from([62.5, 125, 250, 500, 1000, ...dense]);
  expect(pointsPerOctave(frequencyHz, 62.5, 1000)).toBeCloseTo(1, 6);
});
