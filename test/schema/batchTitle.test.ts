import { expect, test } from 'vitest';
import { batchJobSchema } from '../../src/schema/batch.js';

const messages = (title: unknown) =>
  batchJobSchema
    .safeParse({ measurement: 'm.txt', title })
    .error?.issues.map(({ path, message }) => `${path.join('.')}: ${message}`);

test.each(['', '  ', '\t', '\u00a0'])('a title of nothing but blanks is none: %j', (title) => {
  expect(messages(title)).toEqual(['title: found an empty text, expected a name']);
});

test('a title with a letter is taken as it is', () => {
  expect(messages(' left ')).toBeUndefined();
});
