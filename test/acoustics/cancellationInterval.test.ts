import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cancellationInterval, pathDifferenceInterval } from '../../src/acoustics/cancellationInterval.js';
import { cancellationsHz, pathDifferenceM } from '../../src/acoustics/imageSource.js';

const exact = (m: number) => ({ m, toleranceM: 0 });

describe('cancellationInterval', () => {
  it('is a point where nothing has a tolerance', () => {
    const { from, to } = cancellationInterval({ r: exact(1), hs: exact(0.26), hm: exact(1.26) }, 2, 343.2);
    const [, second] = cancellationsHz(pathDifferenceM({ r: 1, hs: 0.26, hm: 1.26 }), 2000, 343.2);
    expect(from).toBeCloseTo(second!, 9);
    expect(to).toBeCloseTo(second!, 9);
  });

  it('holds the cancellation of every geometry that the tolerances allow, and reaches its ends', () => {
    const share = fc.double({ min: -1, max: 1, noNaN: true });
    fc.assert(
      fc.property(share, share, share, (a, b, c) => {
        const plane = {
          r: { m: 1.1, toleranceM: 0.05 },
          hs: { m: 0.3, toleranceM: 0.02 },
          hm: { m: 0.9, toleranceM: 0.03 },
        };
        const difference = pathDifferenceM({ r: 1.1 + a * 0.05, hs: 0.3 + b * 0.02, hm: 0.9 + c * 0.03 });
        const { from, to } = pathDifferenceInterval(plane);
        expect(difference).toBeGreaterThanOrEqual(from - 1e-12);
        expect(difference).toBeLessThanOrEqual(to + 1e-12);
      }),
      { seed: 3, numRuns: 300 },
    );
    const wide = cancellationInterval(
      { r: exact(1), hs: { m: 0.26, toleranceM: 0.02 }, hm: { m: 1.26, toleranceM: 0.02 } },
      1,
      343.2,
    );
    // On the axis the path difference is 2·hs, so ±2 cm give c/(4·0.28) to c/(4·0.24), less the part of hm.
    expect(wide.from).toBeCloseTo(343.2 / (2 * pathDifferenceM({ r: 1, hs: 0.28, hm: 1.28 })), 9);
    expect(wide.to).toBeCloseTo(343.2 / (2 * pathDifferenceM({ r: 1, hs: 0.24, hm: 1.24 })), 9);
  });

  it('stays positive and finite when the tolerance is larger than the distance', () => {
    const plane = { r: exact(1), hs: { m: 0.02, toleranceM: 0.05 }, hm: exact(1) };
    const { from, to } = cancellationInterval(plane, 1, 343.2);
    expect(from).toBeGreaterThan(0);
    expect(Number.isFinite(to)).toBe(true);
  });
});
