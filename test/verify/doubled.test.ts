import { expect, test } from 'vitest';
import type { Filter } from '../../src/filter/filter.js';
import { verifyDesign } from '../../src/verify/verifyDesign.js';
import { bank, designOf, measuredWith } from './smallRoom.js';

/** A wide shelf: twice over it is slow over octaves, as another microphone is. */
const wide: readonly Filter[] = [
  { type: 'lowShelf', frequencyHz: 165, gainDb: -9, q: 0.8 },
  ...bank.slice(1, 3),
  { type: 'peaking', frequencyHz: 3000, gainDb: 5, q: 0.5 },
];

test.each([
  ...bank.map((_, index) => ({ filters: bank, index })),
  ...wide.map((_, index) => ({ filters: wide, index })),
])(
  '$filters.0.type and others: number $index running twice is named, and nothing else',
  ({ filters, index }) => {
    const { faults } = verifyDesign({
      design: designOf(filters),
      after: measuredWith([...filters, filters[index]!]),
    });
    expect(faults).toHaveLength(1);
    expect(faults[0]).toMatchObject({ type: 'unknown', filter: index, gainDb: 2 * filters[index]!.gainDb });
    expect(faults[0]!.message).toContain('acts twice');
    expect(faults[0]!.fix).toContain('in two bands');
  },
);

const messagesAndFixes = (filters: readonly Filter[], running: readonly Filter[]) =>
  verifyDesign({ design: designOf(filters), after: measuredWith(running) }).faults.map(
    ({ message, fix }) => `${message} ${fix}`,
  );
const scaled = (filters: readonly Filter[]) =>
  filters.map((filter) => ({ ...filter, gainDb: 2 * filter.gainDb }));

test('a whole set that runs twice is told from one of twice the gains where they differ', () => {
  const twice = messagesAndFixes(wide, [...wide, ...wide]);
  expect(twice).toHaveLength(1);
  expect(twice[0]).toContain('All filters act twice');
  const more = messagesAndFixes(wide, scaled(wide));
  expect(more).toHaveLength(1);
  expect(more[0]).toContain('about 200 % of their gains');
});

test('of small gains, where both are alike, the remedy is that of both', () => {
  const twice = messagesAndFixes(bank, [...bank, ...bank]);
  expect(twice).toHaveLength(1);
  expect(twice[0]).toContain('entered twice on the way');
});
