import { expect, test } from 'vitest';
import { mistypedFrequencies } from '../../src/verify/mistypedFrequencies.js';

const slipsOf = (hz: number) =>
  new Map(mistypedFrequencies(hz, 24000).map(({ frequencyHz, words }) => [frequencyHz, words]));

test('a decimal point moved, digits swapped and a digit left out are slips of 61.2', () => {
  const slips = slipsOf(61.2);
  expect(slips.get(612)).toMatch(/decimal point/);
  expect(slips.get(6.12)).toMatch(/decimal point/);
  expect(slips.get(16.2)).toMatch(/swapped/);
  expect(slips.get(61200)).toBeUndefined();
  expect([...slips.keys()].some((hz) => hz === 1.2 || hz === 61.2)).toBe(false);
});

test('the number rounded to three figures can be mistyped too', () => {
  expect(slipsOf(1287.4).get(2190)).toMatch(/swapped/); // from 1290
  expect(slipsOf(1287.4).get(2187.4)).toMatch(/swapped/);
  expect(slipsOf(1287.4).get(2180)).toBeUndefined();
});

test('every slip lies well off, below half the sample rate, and is named once', () => {
  const slips = mistypedFrequencies(4410, 22050);
  expect(slips.length).toBeGreaterThan(3);
  expect(new Set(slips.map(({ frequencyHz }) => frequencyHz)).size).toBe(slips.length);
  for (const { frequencyHz } of slips) {
    expect(frequencyHz).toBeLessThan(22050);
    expect(Math.abs(Math.log2(frequencyHz / 4410))).toBeGreaterThan(0.01);
  }
});
