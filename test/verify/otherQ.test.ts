import { describe, expect, test } from 'vitest';
import type { Filter } from '../../src/filter/filter.js';
import { verificationSchema } from '../../src/schema/verification.js';
import { verifyDesign } from '../../src/verify/verifyDesign.js';
import { bank, designOf, measuredWith } from './smallRoom.js';

const filters: readonly Filter[] = [
  { type: 'lowShelf', frequencyHz: 130, gainDb: -6, q: 1.2 },
  ...bank.slice(1, 3),
  { type: 'peaking', frequencyHz: 390, gainDb: -7, q: 3.6 },
];
const design = designOf(filters);
const heardWith = (index: number, other: Partial<Filter>, seed?: number) =>
  verifyDesign({
    design,
    after: measuredWith(
      filters.map((filter, i) => (i === index ? { ...filter, ...other } : filter)),
      seed === undefined ? {} : { seed },
    ),
  });

describe('one filter with another Q', () => {
  test.each(
    filters.flatMap(({ type, q }, index) => [3, 1 / 3].map((factor) => ({ type, index, q, factor }))),
  )('is named with that Q: $type $index, $factor times', ({ index, q, factor }) => {
    const result = verificationSchema.parse(heardWith(index, { q: factor * q }));
    expect(result.faults).toHaveLength(1);
    const [fault] = result.faults;
    expect(fault).toMatchObject({ type: 'unknown', filter: index });
    expect(fault).not.toHaveProperty('gainDb');
    expect(Math.abs(Math.log2(fault!.q! / (factor * q)))).toBeLessThan(0.35);
  });

  test('is told with both numbers, what that makes of it, and where it may come from', () => {
    const { message, fix, q } = heardWith(3, { q: 1.2 }).faults[0]!;
    expect(message).toContain(
      `Filter 4 (peaking, 390 Hz, -7 dB, Q 3.6) acts as if its Q were about ${q} in place of 3.6`,
    );
    expect(message).toContain('wider than promised');
    expect(fix).toMatch(
      /^Enter filter 4 again: .* Q 3\.6\. If it is entered so, .* a bandwidth in place of Q/,
    );
    expect(heardWith(3, { q: 10.8 }).faults[0]!.message).toContain('narrower than promised');
    const shelf = heardWith(0, { q: 0.4 }).faults[0]!;
    expect(shelf.message).toContain('of another slope');
    expect(shelf.fix).toContain('a bandwidth or a slope in place of Q');
  });
});

test.each([21, 22, 23, 24])('a right Q is accused of nothing (noise %i)', (seed) => {
  expect(heardWith(0, {}, seed).faults).toEqual([]);
});

test('less gain, and a filter that is missing, stay what they are', () => {
  const { faults } = heardWith(3, { gainDb: -2.6 });
  expect(faults).toEqual([expect.objectContaining({ type: 'unknown', filter: 3 })]);
  expect(faults[0]!.gainDb).toBeLessThan(-1);
  expect(faults[0]!.gainDb).toBeGreaterThan(-4);
  expect(faults[0]).not.toHaveProperty('q');
  expect(heardWith(3, { gainDb: 0 }).faults).toEqual([
    expect.objectContaining({ type: 'filterMissing', filter: 3 }),
  ]);
});
