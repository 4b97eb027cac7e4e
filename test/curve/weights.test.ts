import { describe, expect, it } from 'vitest';
import { octaveWeights } from '../../src/curve/octaveWeights.js';
import { weightedRms } from '../../src/curve/weightedRms.js';
import { linearPoints, logPoints } from './curveSamples.js';

describe('octaveWeights', () => {
  it('gives every octave the same weight, however its points lie', () => {
    const low = logPoints(100, 200, 100);
    const points = Float64Array.of(...low, ...linearPoints(203, 400, 3), ...linearPoints(410, 800, 10));
    const weight = octaveWeights(points);
    const sum = (from: number, to: number) =>
      weight.reduce((total, w, i) => total + (points[i]! >= from && points[i]! < to ? w : 0), 0);
    expect(sum(0, 1e9)).toBeCloseTo(1, 12);
    for (const from of [100, 200, 400]) expect(sum(from, 2 * from)).toBeCloseTo(1 / 3, 1);
    const mean = weight.reduce((total, w, i) => total + w * Math.log2(points[i]! / 100), 0);
    expect(mean).toBeCloseTo(1.5, 2);
  });

  it('of one point is 1, of none nothing', () => {
    expect(octaveWeights(Float64Array.of(50))).toEqual(Float64Array.of(1));
    expect(octaveWeights(new Float64Array(0))).toHaveLength(0);
  });
});

describe('weightedRms', () => {
  it('is the root of the weighted mean square', () => {
    expect(weightedRms(Float64Array.of(1, -7, 5), Float64Array.of(0.5, 0.25, 0.25))).toBeCloseTo(
      Math.sqrt(19),
      12,
    );
    expect(weightedRms(Float64Array.of(3, 4), Float64Array.of(2, 2))).toBeCloseTo(Math.sqrt(12.5), 12);
  });

  it('counts nothing where the weight is 0, and is 0 where all are', () => {
    expect(weightedRms(Float64Array.of(100, 2), Float64Array.of(0, 3))).toBe(2);
    expect(weightedRms(Float64Array.of(100, 2), Float64Array.of(0, 0))).toBe(0);
  });
});
