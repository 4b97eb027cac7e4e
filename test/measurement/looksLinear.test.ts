import { expect, test } from 'vitest';
import { logGrid } from '../../src/curve/logGrid.js';
import { looksLinear } from '../../src/measurement/looksLinear.js';
import { readMeasurementText } from '../../src/measurement/readMeasurementText.js';
import { curveOf, speakerDb } from '../curve/curveSamples.js';

const grid = logGrid(20, 20_000, 24);
const codes = (levelOf: (hz: number) => number, at = grid) =>
  looksLinear(curveOf(at, levelOf), 'a.txt').map(({ code }) => code);
/** Sound pressure level is 20 lg(p/p0) (IEC 61672-1), so a level of 0 dB is a ratio of 1. */
const ratioOf = (db: number) => 10 ** (db / 20);

test('a response in pressure or as a ratio is told of, as it is read from a file', () => {
  const rows = Array.from(grid, (hz) => `${hz} ${ratioOf(4 * Math.sin(Math.log(hz)))}`);
  const { warnings } = readMeasurementText(new TextEncoder().encode(rows.join('\n')), 'lin.txt');
  expect(warnings).toContainEqual({
    code: 'level-unit-suspect',
    message: expect.stringMatching(/^lin\.txt has levels between 0\.63\d* and 1\.58.*in dB/),
  });
  expect(codes((hz) => 2e-5 * ratioOf(speakerDb(hz)))).toEqual(['level-unit-suspect']);
});

test('levels in dB are not, whatever they are against', () => {
  expect(codes(speakerDb)).toEqual([]);
  expect(codes((hz) => speakerDb(hz) - 80)).toEqual([]);
  expect(codes((hz) => speakerDb(hz) - 140)).toEqual([]);
  expect(codes(() => 1)).toEqual([]);
  expect(codes((hz) => 5 + Math.sin(Math.log(hz)))).toEqual([]);
  expect(codes((hz) => 1.5 + Math.sin(Math.log(hz)), logGrid(2000, 20_000, 24))).toEqual([]);
});
