import { expect, test } from 'vitest';
import { causeName, causeWords, sureWords } from '../../../src/export/words/findingWords.js';

const desk = { type: 'reflection', surface: 'desk', predictedHz: 1190 } as const;

test('a prediction that lies near is told as it is, one that does not with how far off it is', () => {
  expect(causeWords({ frequencyHz: 1150, cause: desk })).toBe(
    'reflection from "desk" (predicted at 1.19 kHz)',
  );
  expect(causeWords({ frequencyHz: 965, cause: desk })).toBe(
    'reflection from "desk" (predicted at 1.19 kHz, 23 % higher)',
  );
  expect(causeWords({ frequencyHz: 1400, cause: desk })).toBe(
    'reflection from "desk" (predicted at 1.19 kHz, 15 % lower)',
  );
  expect(causeWords({ frequencyHz: 965, cause: { type: 'speaker' } })).toBe('the speaker itself');
});

test('of a cause that is not known it is told how far it may be the speaker, not how sure nothing is', () => {
  const unknown = { cause: { type: 'unknown' }, confidence: 0.9 } as const;
  expect(`${causeName(unknown.cause)}, ${sureWords(unknown)}`).toBe(
    "cause not known, the speaker's with 10 %",
  );
  expect(sureWords({ cause: { type: 'speaker' }, confidence: 0.9 })).toBe('very likely (90 %)');
});
