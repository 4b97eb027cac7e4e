import { expect, test } from 'vitest';
import { InputError } from '../../src/inputError.js';
import { designSchema } from '../../src/schema/design.js';
import { readJson } from '../../src/schema/readJson.js';

test('a file of another kind is refused with what was found and what was expected for every key', () => {
  const text = '{ "schemaVersion": 1, "title": 3, "sampleRateHz": 48000 }';
  let message = '';
  try {
    readJson(designSchema, text, 'coefficients.json');
  } catch (error) {
    expect(error).toBeInstanceOf(InputError);
    ({ message } = error as InputError);
  }
  expect(message).toContain('title: found 3, expected a text');
  expect(message).toContain('filters: found nothing, expected a list');
  expect(message).toContain('range: found nothing, expected an object {…}');
  expect(message).not.toMatch(/Invalid input|undefined/);
});
