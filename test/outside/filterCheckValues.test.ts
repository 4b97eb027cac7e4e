import { describe, expect, it } from 'vitest';
import { biquadResponse } from '../../src/filter/biquadResponse.js';
import { cookbookCoefficients } from '../../src/filter/cookbookCoefficients.js';
import type { Filter } from '../../src/filter/filter.js';
import { filterResponseDb } from '../../src/filter/filterResponseDb.js';

describe('published and computed check values of the filters', () => {
  // Source: formulas of the W3C Group Note "Audio EQ Cookbook", fs 44.1 kHz, f0 1 kHz, +5 dB; computed, six decimals.
  const tableHz = [100, 500, 2000, 5000, 10_000];
  it.each([
    ['peaking', 1, [0.053065, 1.55608, 1.542771, 0.200124, 0.036253]],
    ['lowShelf', Math.SQRT1_2, [4.999476, 4.693775, 0.301872, 0.007134, 0.000246]],
    ['highShelf', Math.SQRT1_2, [0.000524, 0.306225, 4.698128, 4.992866, 4.999754]],
  ] as const)('the cookbook table at 44.1 kHz holds for the %s', (type, q, expectedDb) => {
    const f: Filter = { type, frequencyHz: 1000, gainDb: 5, q };
    const closed = filterResponseDb(f, 44_100, Float64Array.from(tableHz));
    const { levelDb } = biquadResponse(cookbookCoefficients(f, 44_100), 44_100, Float64Array.from(tableHz));
    expectedDb.forEach((level, i) => {
      expect(Math.abs(closed[i]! - level)).toBeLessThanOrEqual(5.1e-7);
      expect(Math.abs(levelDb[i]! - level)).toBeLessThanOrEqual(5.1e-7);
    });
  });

  it('the shelf of Recommendation ITU-R BS.1770-4, Table 1, is a cookbook high shelf within 0.0014 dB', () => {
    // Coefficients as printed there for 48 kHz.
    const published = {
      b0: 1.53512485958697,
      b1: -2.69169618940638,
      b2: 1.19839281085285,
      a1: -1.69065929318241,
      a2: 0.73248077421585,
    };
    // Its design parameters: a number from memory, no published source.
    const f: Filter = {
      type: 'highShelf',
      frequencyHz: 1500.3123041719,
      gainDb: 3.999843853973347,
      q: 0.7071752369554196,
    };
    const frequencyHz = Float64Array.from({ length: 2401 }, (_, i) => i * 10);
    const theirs = biquadResponse(published, 48_000, frequencyHz).levelDb;
    const ours = filterResponseDb(f, 48_000, frequencyHz);
    const gap = theirs.map((level, i) => Math.abs(level - ours[i]!));
    expect(Math.max(...gap)).toBeLessThan(0.0014);
    // A wrong gain or the other shelf would be far off.
    expect(theirs[2400]).toBeCloseTo(4.0, 1);
    expect(theirs[0]).toBeCloseTo(0, 2);
  });

  it('the Web Audio example of a peaking filter holds', () => {
    // W3C Web Audio API, BiquadFilterNode: 1 kHz, 6 dB, Q 2, fs 48 kHz, as run in two implementations.
    const f: Filter = { type: 'peaking', frequencyHz: 1000, gainDb: 6, q: 2 };
    const levelDb = filterResponseDb(f, 48_000, Float64Array.of(500, 900, 1000, 1200, 2000));
    [0.63228, 5.04598, 6.0, 3.86116, 0.62632].forEach((level, i) => {
      expect(Math.abs(levelDb[i]! - level)).toBeLessThan(1.1e-5);
    });
  });
});
