import { describe, expect, test } from 'vitest';
import { verificationText } from '../../src/export/text/verificationText.js';
import type { Filter } from '../../src/filter/filter.js';
import { verificationSchema } from '../../src/schema/verification.js';
import { verifyDesign } from '../../src/verify/verifyDesign.js';
import { bank, designOf, measuredWith } from './smallRoom.js';

/** Too little to be seen beside noise, and narrower than what a third of its Q would change. */
const faint: Filter = { type: 'peaking', frequencyHz: 7000, gainDb: 0.4, q: 6 };
const slight: Filter = { type: 'peaking', frequencyHz: 390, gainDb: -2, q: 5 };
const filters = [...bank, faint, slight];
const checked = (actual: readonly Filter[], options: Parameters<typeof measuredWith>[1] = {}) =>
  verificationSchema.parse(verifyDesign({ design: designOf(filters), after: measuredWith(actual, options) }));
const unwrapped = (text: string) => text.replace(/\s+/g, ' ');

const faults = filters.flatMap((filter, index) => [
  { kind: 'missing' as const, index, others: [] },
  ...[Math.SQRT2, Math.SQRT1_2].map((factor) => ({
    kind: 'frequency' as const,
    index,
    others: [{ ...filter, frequencyHz: factor * filter.frequencyHz }],
  })),
  ...[3, 1 / 3].map((factor) => ({
    kind: 'q' as const,
    index,
    others: [{ ...filter, q: factor * filter.q }],
  })),
]);

describe('what a measurement would not have shown', () => {
  const good = checked(filters);
  const { missing, frequency, q } = good.wouldNotShow!;

  test('is told of filters too small for it, in figures and in words, where all is as promised', () => {
    expect(good.asPromised).toBe(true);
    expect(missing).toEqual([4]);
    expect(frequency).toContain(4);
    expect(q).toContain(4);
    expect(missing.concat(frequency)).not.toContain(0);
    const text = unwrapped(verificationText(good));
    expect(text).toMatch(/Might not show: filter 5 missing; /);
    expect(text).toContain('and what is less as well');
  });

  test.each(faults.filter(({ kind, index }) => !good.wouldNotShow![kind].includes(index)))(
    'is not said of what another measurement then shows: $kind of filter $index',
    ({ index, others }) => {
      const told = checked(filters.toSpliced(index, 1, ...others), { seed: 9, distanceM: 0.292 });
      expect(told.faults.map(({ filter }) => filter)).toContain(index);
    },
  );

  test('is really not shown: the faint filter may be missing unnoticed', () => {
    expect(checked(filters.toSpliced(4, 1), { seed: 9 }).asPromised).toBe(true);
  });

  test('leaves out a filter that is named', () => {
    const told = checked(filters.toSpliced(0, 1));
    expect(told.faults).toMatchObject([{ type: 'filterMissing', filter: 0 }]);
    expect(unwrapped(verificationText(told))).not.toMatch(/Might not show: .*filter 1\b/);
  });

  test('is not asked where none of the filters acts', () => {
    const bypassed = checked([]);
    expect(bypassed.faults).toMatchObject([{ type: 'bypassed' }]);
    expect(bypassed).not.toHaveProperty('wouldNotShow');
    expect(unwrapped(verificationText(bypassed))).not.toMatch(/(?:Would|Might not) show/);
  });

  test('is not asked where a move hides all of it', () => {
    const moved = checked(filters, { distanceM: 0.5 });
    expect(moved.faults[0]!.type).toBe('speakerMoved');
    expect(moved).not.toHaveProperty('wouldNotShow');
  });
});

test('of a design without filters nothing is said to show', () => {
  const result = verifyDesign({ design: designOf([]), after: measuredWith([]) });
  expect(result.asPromised).toBe(true);
  expect(result).not.toHaveProperty('wouldNotShow');
  expect(verificationText(result)).not.toMatch(/show: /i);
});

test('large filters of no great Q would all show, and that is said too', () => {
  const large: readonly Filter[] = [
    { type: 'peaking', frequencyHz: 120, gainDb: -9, q: 2 },
    { type: 'peaking', frequencyHz: 900, gainDb: 8, q: 2 },
  ];
  const result = verifyDesign({ design: designOf(large), after: measuredWith(large) });
  expect(result.wouldNotShow).toEqual({ missing: [], frequency: [], q: [] });
  expect(unwrapped(verificationText(result))).toContain(
    'Would show: any single filter missing, half an octave off',
  );
});
