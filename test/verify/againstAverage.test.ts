import { expect, test } from 'vitest';
import type { Design } from '../../src/schema/design.js';
import { verifyDesign } from '../../src/verify/verifyDesign.js';
import { bank, before, designOf, measuredWith } from './smallRoom.js';

test('one position against the average of several is told of, unless it has its own earlier measurement', () => {
  const each = ['left', 'right'].map((name) => ({ name, beforeRmsDb: 2, afterRmsDb: 1 }));
  const design: Design = {
    ...designOf(),
    positions: { aim: 'mean', worstBeforeRmsDb: 2, worstAfterRmsDb: 1, each },
  };
  const after = measuredWith(bank);
  const [warning, ...others] = verifyDesign({ design, after }).warnings;
  expect(others).toEqual([]);
  expect(warning).toMatchObject({ code: 'compared-with-average' });
  expect(warning!.message).toContain('made from 2 positions');
  expect(verifyDesign({ design, after, before }).warnings).toEqual([]);
});
