import { expect, test } from 'vitest';
import { boostWords } from '../../src/export/words/boostWords.js';
import { limitWords } from '../../src/export/words/limitWords.js';
import type { Filter } from '../../src/filter/filter.js';

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

test('a limit names the filter by its number in the listings; others stay as they are', () => {
  expect(limitWords('filters[7].q at max')).toBe('Filter 8: Q at its greatest');
  expect(limitWords('filters[0].gainDb at min')).toBe('Filter 1: gain at its least');
  expect(limitWords('level loss at its limit')).toBe('level loss at its limit');
});
