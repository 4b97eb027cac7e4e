import { expect, test } from 'vitest';
import { boostWords } from '../../src/export/boostWords.js';
import { limitWords } from '../../src/export/limitWords.js';

test('the most boost is told with its place, of which below 10 Hz nobody wants to know more', () => {
  expect(boostWords({ meanDb: -1, maxDb: 4.21, maxAtHz: 118 })).toBe('4.2 dB at 118 Hz');
  expect(boostWords({ meanDb: -1, maxDb: 0.5, maxAtHz: 0 })).toBe('0.5 dB below 10 Hz');
  expect(boostWords({ meanDb: -1, maxDb: 0, maxAtHz: 20 })).toBe('none');
});

test('a limit names the filter by its number in the listings; others stay as they are', () => {
  expect(limitWords('filters[7].q at max')).toBe('Filter 8: Q at its greatest');
  expect(limitWords('filters[0].gainDb at min')).toBe('Filter 1: gain at its least');
  expect(limitWords('level loss at its limit')).toBe('level loss at its limit');
});
