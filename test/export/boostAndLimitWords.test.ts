import { expect, test } from 'vitest';
import { boostWords } from '../../src/export/words/boostWords.js';
import { limitWords } from '../../src/export/words/limitWords.js';
import type { Filter } from '../../src/filter/filter.js';
import { bandsFromFilters } from '../../src/fit/bank/bands.js';
import { sharedLimitsReached } from '../../src/fit/finish/sharedLimits.js';
import { problemOf } from '../fit/problems.js';

const range = { fromHz: 50, toHz: 20000 };
const bank = (filters: readonly Filter[]) => ({ range, filters: [...filters], sampleRateHz: 48000 });
const words = (maxDb: number, maxAtHz: number, filters: readonly Filter[] = []) =>
  boostWords({ eq: { meanDb: -1, maxDb, maxAtHz }, ...bank(filters) });

test('the most boost is told with its place', () => {
  expect(words(4.21, 118)).toBe('4.2 dB at 118 Hz');
  expect(words(0, 60)).toBe('none');
});

// A shelf's gain is reached only at the end of the axis: at its corner it is half of that (Audio EQ Cookbook).
test('a boost that is greatest outside the range comes second, with its place', () => {
  const treble: Filter = { type: 'highShelf', frequencyHz: 20000, gainDb: 3, q: 0.71 };
  expect(words(3, 24000, [treble])).toBe('1.5 dB at 20 kHz (3.0 dB at 24 kHz, outside the range)');
  const bass: Filter = { type: 'lowShelf', frequencyHz: 50, gainDb: 2, q: 0.71 };
  expect(words(2, 0, [bass])).toBe('1.0 dB at 50 Hz (2.0 dB below 10 Hz, outside the range)');
  const cut: Filter = { type: 'peaking', frequencyHz: 1000, gainDb: -3, q: 0.1 };
  const lift: Filter = { type: 'highShelf', frequencyHz: 23500, gainDb: 2, q: 2 };
  expect(words(1.9, 24000, [cut, lift])).toMatch(/^none \(1\.9 dB at 24 kHz, outside the range\)$/);
});

test('a boost that goes on as it is beyond the range is told within it', () => {
  const bass: Filter = { type: 'lowShelf', frequencyHz: 2000, gainDb: 2, q: 0.5 };
  expect(words(2, 0, [bass])).toBe('2.0 dB at 50 Hz');
});

test('a limit names the filter by its number in the listings, those of all filters say what they limit', () => {
  expect(limitWords('filters[7].q at max')).toBe('Filter 8: Q at its greatest');
  expect(limitWords('filters[0].gainDb at min')).toBe('Filter 1: gain at its least');
  expect(limitWords('level loss at its limit')).toBe('Mean of the EQ over the range: as low as allowed');
  expect(limitWords('another')).toBe('another');
});

test('every limit of all filters together that a fit can touch has words of its own', () => {
  // Far more boost and far more cut than any limit lets through, all over the range.
  const zones = [{ fromHz: 300, toHz: 500 }];
  const problem = problemOf({ deviationDb: (hz) => hz.map(() => 0), zones });
  const shelf = (gainDb: number) =>
    bandsFromFilters([{ type: 'lowShelf', frequencyHz: 20000, gainDb, q: 0.71 }]);
  const touched = [shelf(30), shelf(-30)].flatMap((bands) => sharedLimitsReached(problem, bands));
  expect(new Set(touched).size).toBe(3);
  for (const limit of touched) expect(limitWords(limit)).toMatch(/^(All filters together|Mean of the EQ)/);
});
