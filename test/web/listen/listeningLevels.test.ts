import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Filter } from '../../../src/filter/filter.js';
import { createBankRunner } from '../../../src/filter/runBank.js';
import { listeningLevels, lowBoost, rateDifferenceDb } from '../../../web/listen/listeningLevels.js';
import { listeningWords, rateWords } from '../../../web/listen/listeningWords.js';
import { pinkNoise } from '../../../web/listen/pinkNoise.js';

const RATE = 48_000;
const peaking = (frequencyHz: number, gainDb: number, q = 1): Filter => ({
  type: 'peaking',
  frequencyHz,
  gainDb,
  q,
});
const filters = fc.array(
  fc.record({
    type: fc.constantFrom('peaking', 'lowShelf', 'highShelf') as fc.Arbitrary<Filter['type']>,
    frequencyHz: fc.double({ min: 25, max: 15_000, noNaN: true }),
    gainDb: fc.double({ min: -12, max: 8, noNaN: true }),
    q: fc.double({ min: 0.4, max: 8, noNaN: true }),
  }),
  { maxLength: 6 },
);

describe('levels for listening', () => {
  test('are what pink noise through the filters shows', () => {
    const size = 1 << 16;
    const noise = pinkNoise(size, RATE, 5);
    fc.assert(
      fc.property(filters, (bank) => {
        const { inputGainDb, beforeDb } = listeningLevels(bank, RATE);
        // One period to settle, one to measure.
        const samples = Float64Array.from({ length: 2 * size }, (_, i) => noise[i % size]!);
        createBankRunner(bank, RATE, inputGainDb)(samples);
        const power = (x: ArrayLike<number>, from: number) => {
          let sum = 0;
          for (let i = from; i < from + size; i++) sum += x[i]! ** 2;
          return sum;
        };
        const heardDb = 10 * Math.log10(power(samples, size) / power(noise, 0));
        // The noise has whole lines: some 0.73 Hz apart, few in the lowest octave.
        expect(Math.abs(heardDb - beforeDb)).toBeLessThan(0.15);
      }),
      { seed: 3, numRuns: 20 },
    );
  });

  test('never lie above full scale', () => {
    fc.assert(
      fc.property(filters, (bank) => {
        const { inputGainDb, beforeDb } = listeningLevels(bank, RATE);
        expect(inputGainDb).toBeLessThanOrEqual(0);
        expect(beforeDb).toBeLessThanOrEqual(0);
      }),
      { seed: 4, numRuns: 50 },
    );
  });

  test('without filters are 0 dB; a plain gain over the whole band is made up for exactly', () => {
    expect(listeningLevels([], RATE)).toEqual({
      inputGainDb: 0,
      loudnessDb: expect.closeTo(0, 12),
      beforeDb: 0,
    });
    const { loudnessDb } = listeningLevels([{ type: 'highShelf', frequencyHz: 1, gainDb: -6, q: 0.7 }], RATE);
    expect(loudnessDb).toBeCloseTo(-6, 2);
  });
});

describe('what is said of listening', () => {
  test('a boost in the bass is told with its place, one above is not', () => {
    expect(lowBoost([peaking(50, 4)], RATE)).toEqual({
      gainDb: expect.closeTo(4, 3),
      atHz: expect.closeTo(50, 1),
    });
    expect(lowBoost([peaking(3000, 6)], RATE)).toBeUndefined();
    expect(lowBoost([peaking(50, -4)], RATE)).toBeUndefined();
    expect(lowBoost([], RATE)).toBeUndefined();
  });

  test('another rate is told with what it changes', () => {
    const high = [peaking(14_000, 8, 2)];
    expect(rateDifferenceDb(high, 48_000, 48_000)).toBe(0);
    expect(rateDifferenceDb(high, 48_000, 44_100)).toBeGreaterThan(0.1);
    expect(rateWords(high, 48_000, 44_100)).toMatch(
      /plays at 44.1 kHz, so .* designed for 48 kHz\. Below 16 kHz the two differ by at most \d\.\d dB/,
    );
    expect(rateWords([peaking(100, -3)], 48_000, 44_100)).toMatch(/less than 0.1 dB/);
    expect(rateWords(high, 48_000, 48_000)).toMatch(/plays at 48 kHz, the rate that/);
    expect(rateWords(high, 48_000, undefined)).toMatch(/worked out anew/);
  });

  test('the gains are told the right way round', () => {
    expect(listeningWords([peaking(100, 6, 0.5)], RATE).join(' ')).toMatch(
      /turned down by 6.0 dB.*without filters is turned up again by 2\.2 dB/,
    );
    expect(listeningWords([peaking(100, -6, 0.5)], RATE).join(' ')).toMatch(
      /raise nothing.*without filters is turned down by another 1\.3 dB/,
    );
    expect(listeningWords([], RATE)[0]).toMatch(/no filters, so both sides sound the same/);
  });
});
