import { expect, test } from 'vitest';
import { upperMedian } from '../../src/elementary/upperMedian.js';

test('the upper median is one of the numbers, takes them as numbers and leaves their order alone', () => {
  const values = [10, 9, -2, 100];
  expect(upperMedian(values)).toBe(10);
  expect(values).toEqual([10, 9, -2, 100]);
  expect(upperMedian(Float64Array.of(3, 1, 2))).toBe(2);
  expect(upperMedian([])).toBe(0);
});
