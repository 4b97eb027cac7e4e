import { describe, expect, it } from 'vitest';
import { interpolateLevel } from '../../src/curve/interpolateLevel.js';
import { lowerIndex } from '../../src/curve/lowerIndex.js';
import { monotoneInterpolation } from '../../src/curve/monotoneInterpolation.js';

describe('lowerIndex', () => {
  const values = Float64Array.of(1, 2, 4);
  it.each([
    [0.5, -1],
    [1, 0],
    [1.9, 0],
    [2, 1],
    [4, 2],
    [9, 2],
  ])('of %d in 1, 2, 4 is %d', (x, index) => {
    expect(lowerIndex(values, x)).toBe(index);
  });
});

describe('interpolateLevel', () => {
  const curve = { frequencyHz: Float64Array.of(100, 400, 1600), levelDb: Float64Array.of(70, 80, 60) };

  it('runs straight over log frequency between points', () => {
    expect(interpolateLevel(curve, 200)).toBeCloseTo(75, 12);
    expect(interpolateLevel(curve, 800)).toBeCloseTo(70, 12);
    expect(interpolateLevel(curve, 400)).toBe(80);
  });

  it('holds the end values outside', () => {
    expect(interpolateLevel(curve, 20)).toBe(70);
    expect(interpolateLevel(curve, 1600)).toBe(60);
    expect(interpolateLevel(curve, 9999)).toBe(60);
  });
});

describe('monotoneInterpolation', () => {
  it('goes through every point and never leaves the span of its two neighbours', () => {
    // The RPN 14 data of F. N. Fritsch, R. E. Carlson, SIAM J. Numer. Anal. 17 (1980) 238 (from memory), on which
    // a cubic spline overshoots.
    const x = Float64Array.of(7.99, 8.09, 8.19, 8.7, 9.2, 10, 12, 15, 20);
    const y = Float64Array.of(
      0,
      2.76429e-5,
      4.37498e-2,
      0.169183,
      0.469428,
      0.94374,
      0.998636,
      0.999919,
      0.999994,
    );
    const at = monotoneInterpolation(x, y);
    x.forEach((v, i) => {
      expect(at(v)).toBeCloseTo(y[i]!, 15);
    });
    let last = at(7.99);
    for (let v = 7.99; v <= 20; v += 0.01) {
      expect(at(v)).toBeGreaterThanOrEqual(last);
      last = at(v);
    }
    expect(last).toBeLessThanOrEqual(0.999994);
  });

  it('is exact for a straight line on uneven points, ends included', () => {
    const x = Float64Array.of(0, 1, 1.5, 4, 9);
    const at = monotoneInterpolation(
      x,
      x.map((v) => 3 - 2 * v),
    );
    for (const v of [0.2, 1.2, 3, 8.9]) expect(at(v)).toBeCloseTo(3 - 2 * v, 12);
  });

  it('is smooth: no kink at a point of a smooth curve', () => {
    const x = Float64Array.from({ length: 21 }, (_, i) => i / 4);
    const at = monotoneInterpolation(x, x.map(Math.exp));
    const h = 1e-6;
    for (const v of [1, 2.5, 4]) {
      expect((at(v + h) - at(v)) / h).toBeCloseTo((at(v) - at(v - h)) / h, 3);
      // Fourth-order would be closer; the slopes of this scheme are second order.
      expect((at(v + h) - at(v)) / h / Math.exp(v)).toBeCloseTo(1, 1);
    }
  });

  it('with two points is the line between them', () => {
    const at = monotoneInterpolation(Float64Array.of(1, 3), Float64Array.of(10, 20));
    expect(at(2)).toBe(15);
    expect(at(0)).toBe(10);
    expect(at(4)).toBe(20);
  });
});
