import { expect, test } from 'vitest';
import { nearestWord } from '../../src/schema/nearestWord.js';

const known = ['speakerDistance', 'microphoneDistance', 'name'];

test.each([
  ['speakerDistanse', 'speakerDistance'],
  ['SPEAKERDISTANCE', 'speakerDistance'],
  ['nmae', 'name'],
  ['micDistance', undefined],
  ['colour', undefined],
  ['', undefined],
])('nearestWord(%j) is %j', (written, word) => {
  expect(nearestWord(written, known)).toBe(word);
});

test('nearestWord of nothing known is nothing', () => {
  expect(nearestWord('name', [])).toBeUndefined();
});
