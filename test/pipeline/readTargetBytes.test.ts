import { expect, test } from 'vitest';
import { randomScenario } from '../../fixtures/simulate/randomScenario.js';
import { seededRandom } from '../../fixtures/simulate/seededRandom.js';
import { simulateCurve } from '../../fixtures/simulate/simulate.js';
import { logGrid } from '../../src/curve/logGrid.js';
import { smoothOctave } from '../../src/curve/smoothOctave.js';
import { readTargetBytes } from '../../src/pipeline/readTargetBytes.js';

const read = (text: string) => readTargetBytes(new TextEncoder().encode(text), 'house.txt', 'a target file');

test('breakpoints in JSON are known by how they begin, whatever the file is called', () => {
  const text =
    '\ufeff\n { "breakpoints": [ { "frequency": 100, "level": 2 }, { "frequency": 1000, "level": 0 } ] }';
  const { curve, isJson } = read(text);
  expect(isJson).toBe(true);
  expect([...curve.frequencyHz]).toEqual([100, 1000]);
});

test('rows are a curve, and what was noticed in reading them goes with it', () => {
  const { curve, isJson, warnings } = read('0.1 2\n1 0\n20 -1\n');
  expect(isJson).toBe(false);
  expect([...curve.levelDb]).toEqual([2, 0, -1]);
  expect(warnings.map(({ code }) => code)).toEqual(['frequency-unit-suspect']);
});

test.each([
  ['[ { "frequency": 100 } ]', 'house.txt line 1: found a list, expected a target file'],
  ['{ "breakpoints": [] }', 'house.txt line 1: breakpoints'],
  ['100 2\n1000 oops\n', 'house.txt line 2'],
])('%j is refused as what it seems to be', (text, message) => {
  expect(() => read(text)).toThrow(message);
});

test('JSON in bytes that are no text is refused in words', () => {
  const bytes = Uint8Array.from([0x7b, 0xff, 0x7d]);
  expect(() => readTargetBytes(bytes, 'house.json', 'a target file')).toThrow(
    'house.json: found bytes that are no UTF-8 text, expected a target file',
  );
});

const rowsOf = (frequencyHz: Float64Array, levelDb: ArrayLike<number>) =>
  Array.from(frequencyHz, (hz, i) => `${hz.toFixed(3)} ${levelDb[i]!.toFixed(2)}`).join('\n');
const codesOf = (text: string) => read(text).warnings.map(({ code }) => code);

test.each([98100, 98101, 98102, 98103])('a measurement in a room given as target is told of (%s)', (seed) => {
  const curve = simulateCurve(randomScenario(seededRandom(seed), { surroundings: 'room' }));
  expect(codesOf(rowsOf(curve.frequencyHz, curve.levelDb))).toEqual(['target-suspect']);
  const smoothed = smoothOctave(curve, 1 / 12);
  expect(codesOf(rowsOf(smoothed.frequencyHz, smoothed.levelDb))).toEqual(['target-suspect']);
});

test('what somebody drew is not, be it steep at its ends or in few rows', () => {
  const grid = logGrid(20, 20_000, 96);
  const ended = (hz: number) =>
    -10 * Math.log10(1 + (80 / hz) ** 8) -
    10 * Math.log10(1 + (hz / 15_000) ** 12) -
    0.8 * Math.log2(hz / 1000);
  expect(codesOf(rowsOf(grid, grid.map(ended)))).toEqual([]);
  const thirds = logGrid(20, 20_000, 3);
  expect(codesOf(rowsOf(thirds, thirds.map(ended)))).toEqual([]);
  expect(codesOf('20 -30\n80 -20\n85 3\n1000 0\n20000 -3\n')).toEqual([]);
});

test('what a crossover of 48 dB an octave leaves of a band is not, nor a target cut off at its ends', () => {
  // Squared Butterworth of the fourth order either way: |H|² = 1/(1 + (f₁/f)⁸)² (from memory).
  const falls = (turns: number) => -20 * Math.log10(1 + turns ** 8);
  const grid = logGrid(20, 20_000, 48);
  const targets: ((hz: number) => number)[] = [
    (hz) => falls(80 / hz),
    (hz) => falls(300 / hz) + falls(hz / 3000),
    (hz) => falls(2500 / hz),
    (hz) => (hz < 80 || hz > 16_000 ? -60 : 0),
  ];
  for (const target of targets) expect(codesOf(rowsOf(grid, grid.map(target)))).toEqual([]);
});
