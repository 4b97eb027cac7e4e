import { expect, test } from 'vitest';
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
