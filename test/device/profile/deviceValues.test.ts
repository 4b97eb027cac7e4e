import { describe, expect, test } from 'vitest';
import {
  isContinuous,
  isDeviceValue,
  steppedValue,
  valuesAround,
} from '../../../src/device/profile/deviceValues.js';

const stepped = { min: -12, max: 6, step: 0.5 };
const thirds = { min: 20, max: 20000, perOctave: 3 };
const listed = { min: 20, max: 80, values: [20, 31.5, 40, 80] };

describe('valuesAround', () => {
  test('counts steps from 0, not from the lower end', () => {
    expect(valuesAround({ min: 0.25, max: 2, step: 0.1 }, 0.26)).toEqual([0.3]);
    expect(valuesAround(stepped, 1.2)).toEqual([1, 1.5]);
    expect(valuesAround(stepped, -1.2)).toEqual([-1.5, -1]);
  });

  test('gives a value of the grid alone where x is one, without the dust of binary fractions', () => {
    expect(valuesAround({ min: 0.1, max: 1, step: 0.1 }, 0.1 + 0.2)[0]).toBe(0.3);
    expect(valuesAround(stepped, 0)).toEqual([0]);
    expect(Object.is(valuesAround(stepped, -0.0)[0], 0)).toBe(true);
  });

  test('takes per-octave values from 1000 times powers of two', () => {
    const [low, high] = valuesAround(thirds, 1100);
    expect(low).toBe(1000);
    expect(high).toBeCloseTo(1259.921049894873, 9);
  });

  test.each([
    [stepped, 9, 6],
    [stepped, -99, -12],
    [thirds, 10, 1000 * 2 ** (-16 / 3)],
    [listed, 10, 20],
    [listed, 200, 80],
    [{ min: 1, max: 2 }, 5, 2],
  ])('stays inside %o for %d', (range, x, expected) => {
    expect(valuesAround(range, x)).toEqual([expected]);
  });

  test('knows lists', () => {
    expect(valuesAround(listed, 35)).toEqual([31.5, 40]);
    expect(isDeviceValue(listed, 31.5)).toBe(true);
    expect(isDeviceValue(listed, 32)).toBe(false);
  });
});

describe('steppedValue', () => {
  test('goes up and down the grid and ends with it', () => {
    expect(steppedValue(stepped, 5.5, 1)).toBe(6);
    expect(steppedValue(stepped, 6, 1)).toBeUndefined();
    expect(steppedValue(listed, 31.5, -1)).toBe(20);
    expect(steppedValue(listed, 20, -1)).toBeUndefined();
    expect(steppedValue(thirds, 1000 * 2 ** (1 / 3), -1)).toBe(1000);
  });

  test('has no steps where every number will do', () => {
    expect(isContinuous({ min: 1, max: 2 })).toBe(true);
    expect(steppedValue({ min: 1, max: 2 }, 1.5, 1)).toBeUndefined();
  });
});
