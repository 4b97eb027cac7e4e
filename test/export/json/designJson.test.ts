import { expect, test } from 'vitest';
import { designJson } from '../../../src/export/json/designJson.js';
import { designSchema } from '../../../src/schema/design.js';
import { sampleDesign } from '../sampleDesign.js';

/** The same value with the keys of every object turned round. */
function reversed(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(reversed);
  if (value === null || typeof value !== 'object') return value;
  return Object.fromEntries(
    Object.entries(value)
      .reverse()
      .map(([key, member]) => [key, reversed(member)]),
  );
}

test('reading it back gives the same design', () => {
  expect(designSchema.parse(JSON.parse(designJson(sampleDesign())))).toEqual(sampleDesign());
});

test('the same design gives the same bytes whatever order its keys were built in', () => {
  const design = sampleDesign();
  const turned = reversed(design) as typeof design;
  expect(Object.keys(turned)).not.toEqual(Object.keys(design));
  expect(designJson(turned)).toBe(designJson(design));
});

test('a list of numbers takes one line, so that the file can be read and compared', () => {
  const text = designJson(sampleDesign());
  expect(text.split('\n').length).toBeLessThan(160);
  expect(text).toMatch(
    /\n {4}\{ "type": "peaking", "frequencyHz": 63\.6, "gainDb": -6\.7, "q": 4\.374 \},?\n/,
  );
});

test('a number that JSON cannot hold is refused instead of being written as null', () => {
  const design = sampleDesign();
  expect(() => designJson({ ...design, levelDb: Number.NaN })).toThrow(/levelDb/);
});
