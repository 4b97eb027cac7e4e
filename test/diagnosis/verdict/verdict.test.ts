import { expect, test } from 'vitest';
import { cheapestVerdict } from '../../../src/diagnosis/verdict/verdict.js';

test('the surer the placement is, the farther the hand keeps from the equalizer', () => {
  const verdicts = Array.from({ length: 101 }, (_, i) => cheapestVerdict(i / 100, 300));
  const changes = verdicts.filter((v, i) => i === 0 || v !== verdicts[i - 1]);
  expect(changes).toEqual(['equalize', 'leave', 'move']);
  // A wrong move costs more than hands off, so being merely more likely than not is not enough for it.
  expect(cheapestVerdict(0.6, 300)).toBe('leave');
  expect(cheapestVerdict(0.88, 300)).toBe('move');
  // High up a dip is narrow, and leaving it costs less.
  expect(cheapestVerdict(0.88, 3000)).toBe('leave');
});
