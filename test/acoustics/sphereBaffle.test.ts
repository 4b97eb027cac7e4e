import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { spherePressure, sphereSeries, sumSphereSeries } from '../../src/acoustics/sphereBaffle.js';

const magnitude = ({ re, im }: { re: number; im: number }) => Math.hypot(re, im);
const phase = ({ re, im }: { re: number; im: number }) => Math.atan2(im, re);

describe('sphereBaffle', () => {
  it('radiates evenly for long waves and less to the rear for shorter ones', () => {
    expect(magnitude(spherePressure(0.05, Math.PI)) / magnitude(spherePressure(0.05, 0))).toBeCloseTo(1, 3);
    const rearDb = [0.3, 0.5, 0.7, 1].map(
      (ka) => 20 * Math.log10(magnitude(spherePressure(ka, Math.PI)) / magnitude(spherePressure(ka, 0))),
    );
    for (let i = 1; i < rearDb.length; i++) expect(rearDb[i]!).toBeLessThan(rearDb[i - 1]! - 0.3);
  });

  it('for long waves the acoustic centre lies one and a half radii ahead of the sphere’s, so the rear lags by three', () => {
    // First order in ka: monopole plus dipole, D = 1 + j·(3/2)·ka·cos θ.
    for (const ka of [0.01, 0.05, 0.1]) {
      for (const theta of [0, 0.7, 1.6, 2.5, Math.PI]) {
        const ratio = phase(spherePressure(ka, theta)) / ka;
        expect(Math.abs(ratio - 1.5 * Math.cos(theta))).toBeLessThan(0.01 + ka * ka);
      }
    }
  });

  it('loses no power: the mean square over all directions equals the work done on the source’s own surface', () => {
    // From the same series by orthogonality of the Legendre polynomials: ∫|D|² = Σ |term|²·2/(2n+1).
    fc.assert(
      fc.property(fc.double({ min: 0.05, max: 30, noNaN: true }), (ka) => {
        const series = sphereSeries(ka);
        let expected = 0;
        series.re.forEach((re, n) => {
          expected += (re * re + series.im[n]! * series.im[n]!) / (2 * n + 1);
        });
        let mean = 0;
        const steps = 400;
        for (let i = 0; i < steps; i++) {
          mean += magnitude(sumSphereSeries(series, -1 + (2 * i + 1) / steps)) ** 2 / steps;
        }
        expect(Math.abs(mean / expected - 1)).toBeLessThan(2e-3);
      }),
      { seed: 4, numRuns: 40 },
    );
  });

  it('the series has converged: twice the terms change nothing, from tiny to large spheres', () => {
    for (const ka of [1e-4, 1e-3, 0.02, 1, 12, 60]) {
      const { re, im } = sphereSeries(ka);
      const last = Math.hypot(re.at(-1)!, im.at(-1)!);
      expect(Number.isFinite(last)).toBe(true);
      expect(last).toBeLessThan(1e-3 * (ka < 1e-3 ? 1 : 1e-3));
    }
  });
});
