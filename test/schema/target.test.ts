import { describe, expect, test } from 'vitest';
import { readTarget } from '../../src/schema/target.js';

const read = (text: string) => readTarget(text, 'target.json');

describe('readTarget', () => {
  test('gives the breakpoints as a curve that ascends, in whatever order they stand', () => {
    const curve = read(`{ "breakpoints": [ { "frequency": "10 kHz", "level": "-2 dB" },
      { "frequency": 100, "level": 3 }, { "frequency": "1 kHz", "level": "0 dB" } ] }`);
    expect([...curve.frequencyHz]).toEqual([100, 1000, 10000]);
    expect([...curve.levelDb]).toEqual([3, 0, -2]);
  });

  test.each([
    ['{ "breakpoints": [ { "frequency": "1 kHz", "level": 0 } ] }', 'at least two breakpoints'],
    [
      '{ "breakpoints": [ { "frequency": "1 kHz", "level": 0 },\n { "frequency": 1000, "level": 1 } ] }',
      'target.json line 2: breakpoints[1].frequency: found 1000 Hz, which breakpoints[0] has already',
    ],
    [
      '{ "breakpoints": [ { "frequency": "0 Hz", "level": 0 }, { "frequency": 1000, "level": "loud" } ] }',
      'breakpoints[1].level: found "loud", expected a gain in dB',
    ],
    ['{ "points": [] }', 'unknown key "points"'],
    ['{ "breakpoints": [ { "freqency": 100, "level": 0 } ] }', 'did you mean "frequency"?'],
  ])('refuses %s', (text, message) => {
    expect(() => read(text)).toThrow(message);
  });
});
