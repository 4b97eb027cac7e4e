import { describe, expect, it } from 'vitest';
import { boundaryPowerDb } from '../../src/acoustics/boundaryGain.js';

describe('boundaryGain', () => {
  it('is nothing in free field and near nothing far from the planes', () => {
    expect(boundaryPowerDb(100, [], 343.2)).toBe(0);
    expect(Math.abs(boundaryPowerDb(1000, [40, 50, 60], 343.2))).toBeLessThan(0.1);
  });

  it('takes different distances in any order, and a plane far away counts for little', () => {
    const mixed = boundaryPowerDb(120, [0.3, 0.8, 1.4], 343.2);
    expect(boundaryPowerDb(120, [1.4, 0.3, 0.8], 343.2)).toBeCloseTo(mixed, 12);
    expect(boundaryPowerDb(120, [0.3, 0.8, 300], 343.2)).toBeCloseTo(
      boundaryPowerDb(120, [0.3, 0.8], 343.2),
      1,
    );
  });

  it('for three planes equals the formula written out', () => {
    const [x, y, z, f] = [0.31, 0.72, 1.15, 173];
    const j = (d: number) => {
      const u = (4 * Math.PI * f * d) / 343.2;
      return Math.sin(u) / u;
    };
    const power =
      1 +
      j(x) +
      j(y) +
      j(z) +
      j(Math.hypot(x, y)) +
      j(Math.hypot(y, z)) +
      j(Math.hypot(x, z)) +
      j(Math.hypot(x, y, z));
    expect(boundaryPowerDb(f, [x, y, z], 343.2)).toBeCloseTo(10 * Math.log10(power), 10);
  });
});
