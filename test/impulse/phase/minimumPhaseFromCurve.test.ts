import { describe, expect, it } from 'vitest';
import { logGrid } from '../../../src/curve/logGrid.js';
import { minimumPhaseFromCurve } from '../../../src/impulse/phase/minimumPhaseFromCurve.js';
import { sample, ventedSpeaker } from '../analogSystem.js';

const degree = Math.PI / 180;
const apart = (a: number, b: number) => {
  const turns = (a - b) / (2 * Math.PI);
  return Math.abs(turns - Math.round(turns)) * 2 * Math.PI;
};

describe('minimumPhaseFromCurve', () => {
  it('gives a vented speaker its closed-form phase to a degree, away from the ends of the data', () => {
    const grid = logGrid(20, 20_000);
    const { levelDb, phaseRad } = sample(ventedSpeaker, grid);
    const phase = minimumPhaseFromCurve({ frequencyHz: grid, levelDb });
    // What the level does beyond 20 kHz is only guessed; here it falls faster, which is 6 µs of delay.
    const delayS = 6e-6;
    grid.forEach((f, i) => {
      const error = apart(phase[i]! - 2 * Math.PI * f * delayS, phaseRad[i]!);
      if (f >= 60 && f <= 10_000) expect(error).toBeLessThan(degree);
      if (f >= 30 && f <= 14_000) expect(error).toBeLessThan(2 * degree);
    });
  });

  it('does not depend on how densely the curve was sampled', () => {
    const ranges = { from: 100, to: 8000 };
    const coarse = sample(ventedSpeaker, logGrid(20, 20_000, 48));
    const fine = sample(ventedSpeaker, logGrid(20, 20_000, 480));
    const phase = minimumPhaseFromCurve(coarse);
    const finePhase = minimumPhaseFromCurve(fine);
    coarse.frequencyHz.forEach((f, i) => {
      if (f < ranges.from || f > ranges.to) return;
      const j = fine.frequencyHz.findIndex((g) => Math.abs(g / f - 1) < 1e-9);
      expect(Math.abs(phase[i]! - finePhase[j]!)).toBeLessThan(0.2 * degree);
    });
  });

  it('gives a flat curve no phase and a level in dB added to it none either', () => {
    const frequencyHz = logGrid(50, 5000, 12);
    const flat = minimumPhaseFromCurve({ frequencyHz, levelDb: frequencyHz.map(() => 86) });
    expect(Math.max(...flat.map(Math.abs))).toBeLessThan(1e-10);
  });

  it('takes sixteen unevenly spaced rows', () => {
    const frequencyHz = Float64Array.from({ length: 16 }, (_, i) => 40 * 1.5 ** i * (1 + 0.1 * Math.sin(i)));
    const phase = minimumPhaseFromCurve({ frequencyHz, levelDb: frequencyHz.map((_, i) => 5 * Math.sin(i)) });
    expect(phase).toHaveLength(16);
    expect(phase.every(Number.isFinite)).toBe(true);
  });
});
