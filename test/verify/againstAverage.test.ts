import { expect, test } from 'vitest';
import { verificationText } from '../../src/export/text/verificationText.js';
import { promiseWords } from '../../src/export/words/promiseWords.js';
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

test('as many measurements as the design had positions need no word, fewer do, and the result says what was compared', () => {
  const each = ['left', 'right'].map((name) => ({ name, beforeRmsDb: 2, afterRmsDb: 1 }));
  const positions = { aim: 'mean' as const, worstBeforeRmsDb: 2, worstAfterRmsDb: 1, each };
  const several: Design = { ...designOf(), positions };
  const after = measuredWith(bank);
  const both = verifyDesign({ design: several, after, averaged: { after: 2 } });
  expect(both.warnings).toEqual([]);
  expect(both.compared).toEqual({ after: 2, before: 2, beforeFrom: 'design' });
  expect(verificationText(both).replace(/\s+/g, ' ')).toContain(
    'Compared: the average of 2 measurements with the filters on, with what the design promises of the average of its 2 positions',
  );
  const tooMany = verifyDesign({ design: designOf(), after, averaged: { after: 3 } });
  expect(tooMany.warnings[0]?.message).toMatch(/made from one position, and the average of 3 measurements/);
  expect(tooMany.warnings[0]?.message).toContain('right where they are repeats at that position; otherwise');
  const odd = verifyDesign({ design: several, after, averaged: { after: 3 } });
  expect(odd.warnings[0]?.message).not.toContain('repeats');
  const uneven = verifyDesign({ design: several, after, before, averaged: { after: 2, before: 1 } });
  expect(uneven.warnings[0]?.message).toContain('on and off at the same places');
  expect(uneven.compared).toEqual({ after: 2, before: 1, beforeFrom: 'measurement' });
});

test('where one position differs from the average, the headline is no verdict on the filters; a filter at fault keeps its own', () => {
  const each = ['left', 'right'].map((name) => ({ name, beforeRmsDb: 2, afterRmsDb: 1 }));
  const design: Design = {
    ...designOf(),
    positions: { aim: 'mean', worstBeforeRmsDb: 2, worstAfterRmsDb: 1, each },
  };
  const elsewhere = verifyDesign({ design, after: measuredWith(bank, { distanceM: 0.6 }) });
  expect(elsewhere.asPromised).toBe(false);
  expect(promiseWords(elsewhere)).toMatch(/^Not to be told: measured at one of 2 positions/);
  const missing = verifyDesign({ design, after: measuredWith(bank.slice(1)) });
  expect(promiseWords(missing)).toMatch(/^NOT as promised/);
});
