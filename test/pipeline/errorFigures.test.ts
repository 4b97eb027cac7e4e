import { expect, test } from 'vitest';
import { errorFigures, unevenness } from '../../src/pipeline/errorFigures.js';

/** Octaves: the ends weigh half an octave each, the middle points one. */
const hz = Float64Array.of(100, 200, 400, 800, 1600);
const none = new Float64Array(5);

test('errors are weighed by octaves: worked by hand', () => {
  const error = Float64Array.of(4, -2, 1, 0, -2);
  const eq = Float64Array.of(-3, 2, 0, 0, -1);
  // Before: (½·16 + 4 + 1 + 0 + ½·4)/4 = 15/4. After 1, 0, 1, 0, −3: (½ + 0 + 1 + 0 + ½·9)/4 = 6/4.
  expect(errorFigures(hz, error, eq, [])).toEqual({
    beforeRmsDb: Math.round(1000 * Math.sqrt(15 / 4)) / 1000,
    afterRmsDb: Math.round(1000 * Math.sqrt(6 / 4)) / 1000,
    beforeMaxDb: 4,
    afterMaxDb: 3,
  });
});

test('what lies in a zone does not count, its edges included', () => {
  const error = Float64Array.of(1, 9, -20, 9, 1);
  const zones = [{ fromHz: 200, toHz: 800 }];
  expect(errorFigures(hz, error, none, zones)).toEqual({
    beforeRmsDb: 1,
    afterRmsDb: 1,
    beforeMaxDb: 1,
    afterMaxDb: 1,
  });
});

test('with everything in zones there is no error', () => {
  const figures = errorFigures(hz, Float64Array.of(1, 9, 3, 9, 1), none, [{ fromHz: 10, toHz: 5000 }]);
  expect(Object.values(figures)).toEqual([0, 0, 0, 0]);
});

test('a point between octaves weighs by the span that it stands for', () => {
  // Spans: 100–200 one octave, 200–1600 three. Weights ½, 2, 1½ of 4.
  const figures = errorFigures(
    Float64Array.of(100, 200, 1600),
    Float64Array.of(2, 1, 4),
    new Float64Array(3),
    [],
  );
  expect(figures.beforeRmsDb).toBeCloseTo(Math.sqrt((0.5 * 4 + 2 * 1 + 1.5 * 16) / 4), 3);
});

test('unevenness is what no change of level removes', () => {
  const error = Float64Array.of(5, 7, 5, 3, 5);
  // Mean 5; deviations 0, 2, 0, −2, 0: √((4 + 4)/4).
  expect(unevenness(hz, error, none, []).beforeRmsDb).toBeCloseTo(Math.SQRT2, 3);
  const lowered = unevenness(
    hz,
    error.map((db) => db - 40),
    Float64Array.of(0, -2, 0, 2, 0),
    [],
  );
  expect(lowered.beforeRmsDb).toBeCloseTo(Math.SQRT2, 3);
  expect(lowered.afterRmsDb).toBe(0);
});
