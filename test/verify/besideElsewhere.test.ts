import { expect, test } from 'vitest';
import { verifyDesign } from '../../src/verify/verifyDesign.js';
import { bank, designOf, measuredWith } from './smallRoom.js';

test.each([2, 3])('a missing filter and another half an octave off are both named (noise %i)', (seed) => {
  const elsewhereHz = 842 * Math.SQRT2;
  const after = measuredWith([bank[0]!, { ...bank[2]!, frequencyHz: elsewhereHz }, bank[3]!], { seed });
  const { faults } = verifyDesign({ design: designOf(), after });
  expect(faults.map(({ type, filter }) => `${type} ${filter}`).sort()).toEqual([
    'filterMissing 1',
    'frequencyWrong 2',
  ]);
  const found = faults.find(({ type }) => type === 'frequencyWrong')!.frequencyHz!;
  expect(Math.abs(Math.log2(found / elsewhereHz))).toBeLessThan(0.1);
});
