import { describe, expect, it } from 'vitest';
import { logGrid } from '../../../src/curve/logGrid.js';
import { excessGroupDelayS, excessPhaseOfCurve } from '../../../src/impulse/phase/excessPhaseOfCurve.js';
import { echo, sample, secondOrderAllPass, times, ventedSpeaker } from '../analogSystem.js';

const grid = logGrid(20, 20_000);

describe('excessPhaseOfCurve', () => {
  it('finds nothing but the delay in a speaker with one weak reflection, which is minimum phase', () => {
    const reflection = echo(0.5, 0.5e-3);
    const curve = sample((f) => times(ventedSpeaker(f), reflection(f)), grid, 3e-3);
    const { delayS, excessGroupDelayS: excess } = excessPhaseOfCurve(curve);
    // The falling end of the treble beyond the data is a few microseconds of delay more or less.
    expect(Math.abs(delayS - 3e-3)).toBeLessThan(12e-6);
    grid.forEach((f, i) => {
      // A tenth of a period, two where the grid has fewer than ten points to a ripple; the ends are unreliable by design.
      if (f > 30 && f < 12_000) expect(Math.abs(excess[i]! * f)).toBeLessThan(f < 8000 ? 0.1 : 0.2);
      if (f > 80 && f < 3000) expect(Math.abs(excess[i]!)).toBeLessThan(25e-6);
    });
  });

  it('finds the group delay of a crossover that is an all-pass, on top of delay and speaker', () => {
    const [f0, q] = [500, 1];
    const allPass = secondOrderAllPass(f0, q);
    const curve = sample((f) => times(ventedSpeaker(f), allPass(f)), grid, 2e-3);
    const excess = excessGroupDelayS(curve);
    grid.forEach((f, i) => {
      if (f < 80 || f > 10_000) return;
      // −dφ/dω of (s² − s/Q + 1)/(s² + s/Q + 1), in closed form.
      const w = f / f0;
      const exact = (2 / q / (2 * Math.PI * f0)) * ((1 + w * w) / ((1 - w * w) ** 2 + (w / q) ** 2));
      expect(Math.abs(excess[i]! - exact)).toBeLessThan(30e-6);
    });
  });

  it('shows the non-minimum-phase null of a reflection stronger than the direct sound', () => {
    const ratio = 1.25;
    const delay = 1e-3;
    const reflection = echo(ratio, delay);
    const curve = sample((f) => times(ventedSpeaker(f), reflection(f)), logGrid(20, 20_000, 96), 3e-3);
    const weak = sample(
      (f) => times(ventedSpeaker(f), echo(1 / ratio, delay)(f)),
      logGrid(20, 20_000, 96),
      3e-3,
    );
    const at = curve.frequencyHz.findIndex((f) => f >= 500);
    // Closed form of [a, 1]: excess (1 − a²)/(1 + a² + 2a·cos ωτ)·τ, 9τ at the null for a = 0.8.
    expect(excessGroupDelayS(curve)[at]!).toBeGreaterThan(6e-3);
    expect(Math.abs(excessGroupDelayS(weak)[at]!)).toBeLessThan(0.3e-3);
  });

  it('does not change when the polarity of whole turns or a further delay are added', () => {
    const curve = sample(ventedSpeaker, grid, 1e-3);
    const shifted = {
      ...curve,
      phaseRad: curve.phaseRad.map((p, i) => p + 6 * Math.PI - 2 * Math.PI * grid[i]! * 4e-3),
    };
    const one = excessPhaseOfCurve(curve);
    const other = excessPhaseOfCurve(shifted);
    expect(other.delayS - one.delayS).toBeCloseTo(4e-3, 10);
    one.excessPhaseRad.forEach((phase, i) => {
      expect(Math.abs(phase - other.excessPhaseRad[i]!)).toBeLessThan(1e-6);
      expect(Math.abs(one.excessGroupDelayS[i]! - other.excessGroupDelayS[i]!)).toBeLessThan(1e-9);
    });
  });

  it('works on a linear grid of many thousand rows', () => {
    const linear = Float64Array.from({ length: 20_000 }, (_, i) => 1 + i);
    const excess = excessGroupDelayS(sample(ventedSpeaker, linear, 3e-3));
    for (let f = 100; f < 10_000; f += 50) expect(Math.abs(excess[f - 1]!)).toBeLessThan(10e-6);
  });

  it('refuses a curve without phase', () => {
    const { frequencyHz, levelDb } = sample(ventedSpeaker, grid);
    expect(() => excessGroupDelayS({ frequencyHz, levelDb })).toThrow(RangeError);
  });
});
