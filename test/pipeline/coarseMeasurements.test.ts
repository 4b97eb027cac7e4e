import { expect, test } from 'vitest';
import { coarseMeasurements } from '../../src/pipeline/coarseMeasurements.js';
import { curveOf, ventedFall } from './samples.js';

const measured = (perOctave: number) => ({
  curve: curveOf(ventedFall(50), 1 + Math.round(perOctave * Math.log2(1000)), 20, 20000),
  fileName: 'shelf.csv',
  comments: [],
  rows: 0,
  warnings: [],
});

test.each([3, 6])('%i points an octave are told of, with the file', (perOctave) => {
  const [warning, ...others] = coarseMeasurements([measured(perOctave), measured(48)]);
  expect(others).toEqual([]);
  expect(warning!.code).toBe('coarse-measurement');
  expect(warning!.message).toContain(`about ${perOctave} points an octave in shelf.csv`);
});

test.each([12, 24])('%i are not', (perOctave) => {
  expect(coarseMeasurements([measured(perOctave)])).toEqual([]);
});
