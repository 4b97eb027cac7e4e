import { expect, test } from 'vitest';
import { averageMeasurements } from '../../src/pipeline/averageMeasurements.js';
import { prepareMeasurements } from '../../src/pipeline/prepareMeasurements.js';
import { bell, curveOf, measurementOf } from './samples.js';

const heard = { code: 'column-ignored', message: 'a.txt has more columns.' };
const at = (peakHz: number) =>
  [0, 1, 2].map((db) => ({
    ...measurementOf(
      curveOf((hz) => 80 + db + bell(peakHz, 6, 2)(hz)),
      `${db}.txt`,
    ),
    warnings: db < 2 ? [heard] : [{ ...heard, message: 'c.txt has more columns.' }],
  }));
const calibration = { frequencyHz: Float64Array.of(200, 2000), levelDb: Float64Array.of(0, 1) };

test('what one calibration, or one file of any part, gives rise to is told, and once', () => {
  const { warnings, moved } = prepareMeasurements({
    title: 'three',
    measurements: at(700),
    moved: at(500),
    calibration,
  });
  expect(moved).toHaveLength(3);
  expect(warnings.map(({ code, message }) => [code, message.slice(0, 5)])).toEqual([
    ['column-ignored', 'a.txt'],
    ['column-ignored', 'c.txt'],
    ['calibration-range', 'The c'],
  ]);
  const [first, second, third] = at(700);
  const read = { code: 'first-channel-used', message: 'The first was used.' };
  for (const others of [
    { moved: [{ ...second!, warnings: [read] }] },
    { repeats: [{ ...third!, warnings: [read] }] },
  ]) {
    const told = prepareMeasurements({ title: 'one', measurements: [first!], ...others }).warnings;
    expect(told).toContainEqual(read);
  }
  expect(averageMeasurements(at(700)).warnings).toHaveLength(2);
});
