import { describe, expect, test } from 'vitest';
import { shippedDevices } from '../../src/device/profile/shippedDevices.js';
import { InputError } from '../../src/inputError.js';
import { readDevice } from '../../src/schema/device.js';

const complete = `{ "name": "five-band-48k", "sampleRatesHz": [48000],
  "bands": [ { "types": ["peaking"], "count": 5 }, { "types": ["lowShelf"], "count": 1 }, { "types": ["highShelf"], "count": 1 } ],
  "gainDb": { "min": -12, "max": 6, "step": 0.5 },
  "frequencyHz": { "min": 20, "max": 20000, "perOctave": 3 },
  "q": { "min": 0.4, "max": 10, "step": 0.1 },
  "qConvention": "cookbook",
  "coefficients": { "format": "fixed", "integerBits": 5, "fractionBits": 23, "feedbackSign": "subtracted" } }`;

function refusalOf(text: string): string {
  try {
    readDevice(text, 'device.json');
  } catch (error) {
    expect(error).toBeInstanceOf(InputError);
    return (error as InputError).message;
  }
  throw new Error('not refused');
}

describe('readDevice', () => {
  test('reads bands, ranges, convention and number format', () => {
    const device = readDevice(complete, 'device.json');
    expect(device.bands.map(({ types, count }) => [...types, count])).toEqual([
      ['peaking', 5],
      ['lowShelf', 1],
      ['highShelf', 1],
    ]);
    expect(device.frequencyHz).toEqual({ min: 20, max: 20000, perOctave: 3 });
    expect(device.coefficients).toEqual({
      fixedPoint: { integerBits: 5, fractionBits: 23 },
      feedbackSign: 'subtracted',
      order: ['b0', 'b1', 'b2', 'a1', 'a2'],
    });
  });

  test('takes the ends of a list for those of its range, in ascending order', () => {
    const text = complete.replace(
      '{ "min": 20, "max": 20000, "perOctave": 3 }',
      '{ "values": [40, 20, 80] }',
    );
    expect(readDevice(text, 'device.json').frequencyHz).toEqual({ min: 20, max: 80, values: [20, 40, 80] });
  });

  test('takes as many fixed bands as there are frequencies', () => {
    const text = complete.replace('"count": 5', '"atHz": [100, 200]');
    expect(readDevice(text, 'device.json').bands[0]).toEqual({
      types: ['peaking'],
      count: 2,
      atHz: [100, 200],
    });
  });

  test('takes a fixed band that only its highest sample rate can hold', () => {
    const text = complete.replace('"count": 5', '"atHz": [100, 25000]').replace('[48000]', '[48000, 96000]');
    expect(readDevice(text, 'device.json').bands[0]?.atHz).toEqual([100, 25000]);
  });

  test('reports all problems together, each with line and path', () => {
    const text = complete
      .replace('"peaking"', '"notch"')
      .replace('"step": 0.5', '"step": 0.5, "perOctave": 2')
      .replace('"cookbook"', '"cookbok"');
    const message = refusalOf(text);
    expect(message.split('\n')).toHaveLength(4);
    expect(message).toContain('line 2: bands[0].types[0]: found "notch"');
    expect(message).toContain('line 3: gainDb: found');
    expect(message).toContain('line 6: qConvention: found "cookbok", expected one of cookbook');
  });

  test.each([
    ['"step": 0.5', '"stepp": 0.5', 'did you mean "step"?'],
    ['"step": 0.5', '"step": 0', 'expected a step above 0'],
    ['"min": -12, "max": 6', '"min": 1, "max": 6', 'without 0 dB'],
    [
      '"min": 0.4, "max": 10, "step": 0.1',
      '"min": 0.42, "max": 0.48, "step": 0.1',
      'no value between min and max',
    ],
    ['"min": 20, "max": 20000', '"min": 2000, "max": 200', 'min 2000 above max 200'],
    ['"count": 5', '"count": 50', 'expected a whole number from 1 to 40'],
    ['"count": 5', '"count": 39', 'found 41 bands in all'],
    ['"count": 5', '"count": 5, "atHz": [100]', 'found count 5 and 1 frequencies'],
    ['"count": 5', '"atHz": [100, 24000]', 'bands[0].atHz[1]: found 24000 Hz, expected it below 24000 Hz'],
    ['"integerBits": 5, ', '', 'found no integerBits'],
    ['"fixed"', '"float"', 'found bits beside the format "float"'],
    ['[48000]', '[]', 'found an empty list'],
  ])('refuses %s turned into %s', (before, after, words) => {
    expect(complete).toContain(before);
    expect(refusalOf(complete.replace(before, after))).toContain(words);
  });
});

test('every device that comes along is what its own file format takes', () => {
  expect(new Set(shippedDevices.map(({ name }) => name)).size).toBe(shippedDevices.length);
  for (const device of shippedDevices) {
    const { coefficients, ...rest } = device;
    const { fixedPoint, ...form } = coefficients ?? {};
    const file = {
      ...rest,
      ...(coefficients && { coefficients: { format: 'fixed', ...fixedPoint, ...form } }),
    };
    expect(readDevice(JSON.stringify(file), device.name)).toEqual(device);
  }
});
