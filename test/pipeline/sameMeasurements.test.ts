import { expect, test } from 'vitest';
import { otherPlacements, sameMeasurements } from '../../src/pipeline/sameMeasurements.js';
import { bell, curveOf } from './samples.js';

const measured = (fileName: string, gainDb: number) => ({
  curve: curveOf(bell(700, gainDb, 2)),
  fileName,
  comments: [],
  rows: 900,
  warnings: [],
});
const here = measured('here.txt', 4);
const there = measured('there.txt', 4.01);
const again = { ...measured('again.txt', 4), curve: curveOf(bell(700, 4, 2)) };
const messages = (request: Omit<Parameters<typeof sameMeasurements>[0], 'title'>) =>
  sameMeasurements({ title: 'twice', ...request }).map(({ message }) => message);

test('a measurement given twice is told of, with what that would do', () => {
  expect(messages({ measurements: [here, again] })).toEqual([
    expect.stringMatching(/^again\.txt holds the very same levels as here\.txt: as two positions/),
  ]);
  expect(messages({ measurements: [here], repeats: [again] })[0]).toContain('without any noise');
  expect(messages({ measurements: [there, here], moved: [again] })).toEqual([
    expect.stringContaining('makes every dip look as if it stayed'),
  ]);
});

test('one that is given over and over is told of once each time, held against the first', () => {
  const third = { ...again, fileName: 'third.txt' };
  expect(messages({ measurements: [here, again, third] })).toEqual([
    expect.stringContaining('again.txt holds the very same levels as here.txt'),
    expect.stringContaining('third.txt holds the very same levels as here.txt'),
  ]);
  expect(messages({ measurements: [here, again], moved: [third] })).toHaveLength(2);
  expect(messages({ measurements: [here], moved: [here] })).toEqual([
    expect.stringContaining('here.txt was given twice'),
  ]);
});

test('a placement that is the measurement itself, or another placement again, is no evidence', () => {
  expect(messages({ measurements: [here], moved: [there, there] })).toEqual([
    expect.stringContaining('it counts as one placement'),
  ]);
  expect(otherPlacements([here], [again, there, { ...there, fileName: 'twice.txt' }])).toEqual([there]);
});

test('different ones are not', () => {
  expect(messages({ measurements: [here], repeats: [there], moved: [there] })).toEqual([]);
});
