import { describe, expect, it } from 'vitest';
import { combDepthDb } from '../../src/acoustics/combLevels.js';
import { pressureLevelDb } from '../../src/acoustics/complexPressure.js';
import { cancellationsHz, pathDifferenceM } from '../../src/acoustics/imageSource.js';
import {
  laggedCancellationsHz,
  planePressure,
  type ReflectionModel,
  relativeReflection,
  sumReflections,
} from '../../src/acoustics/reflectionModel.js';

const c = 343.2;
const wall = { r: 1, hs: 0.26, hm: 1.26 };
const real: ReflectionModel = { strength: 0.7, cornerHz: 1200, lagM: 0.02 };

describe('reflectionModel', () => {
  it('with no reflection there is the direct sound alone', () => {
    const { re, im } = sumReflections(Float64Array.of(50, 500), [], c);
    expect([...re, ...im]).toEqual([1, 1, 0, 0]);
  });

  it('is the bare image-source formula where strength does not depend on frequency', () => {
    const f = 417;
    const { re, im } = planePressure(
      Float64Array.of(f),
      wall,
      { strength: 0.5, cornerHz: Infinity, lagM: 0 },
      c,
    );
    const [k, L] = [(2 * Math.PI * f) / c, Math.sqrt(1 + 4 * 0.26 * 1.26)];
    expect(re[0]).toBeCloseTo(1 + (0.5 / L) * Math.cos(k * (L - 1)), 12);
    expect(im[0]).toBeCloseTo((-0.5 / L) * Math.sin(k * (L - 1)), 12);
  });

  it('laggedCancellationsHz finds the bottoms of the very response, a few per cent below the bare geometry', () => {
    const difference = pathDifferenceM(wall);
    const lagged = laggedCancellationsHz(difference, real, 3000, c);
    const bare = cancellationsHz(difference, 3000, c);
    expect(lagged.length).toBeGreaterThanOrEqual(4);
    lagged.forEach((hz, n) => {
      const { im } = planePressure(Float64Array.of(hz), wall, real, c);
      expect(Math.abs(im[0]!)).toBeLessThan(1e-9);
      const rho = relativeReflection(hz, wall, real);
      const { re } = planePressure(Float64Array.of(hz), wall, real, c);
      expect(re[0]).toBeCloseTo(1 - rho, 9);
      if (bare[n] !== undefined) expect(hz).toBeLessThan(bare[n]);
    });
  });

  it('laggedCancellationsHz is cancellationsHz where nothing lags', () => {
    const bare = cancellationsHz(0.52, 4000, c);
    const lagged = laggedCancellationsHz(0.52, { strength: 1, cornerHz: Infinity, lagM: 0 }, 4000, c);
    expect(lagged).toHaveLength(bare.length);
    for (const [i, hz] of lagged.entries()) expect(hz).toBeCloseTo(bare[i]!, 9);
  });

  it('combs grow shallower upward', () => {
    const depths = [300, 900, 2700].map((f) => combDepthDb(relativeReflection(f, wall, real)));
    expect(depths[0]!).toBeGreaterThan(depths[1]! + 1);
    expect(depths[1]!).toBeGreaterThan(depths[2]! + 1);
  });

  it('two planes add as complex pressure, their double reflection where asked for', () => {
    const f = Float64Array.from({ length: 60 }, (_, i) => 60 * 1.08 ** i);
    const desk = { r: 1, hs: 0.2, hm: 0.25 };
    const weak: ReflectionModel = { strength: 0.5, cornerHz: 4000, lagM: 0 };
    const one = planePressure(f, wall, real, c);
    const other = planePressure(f, desk, weak, c);
    const both = [
      { plane: wall, model: real },
      { plane: desk, model: weak },
    ];
    const sum = sumReflections(f, both, c);
    f.forEach((_, i) => {
      expect(sum.re[i]).toBeCloseTo(one.re[i]! + other.re[i]! - 1, 12);
      expect(sum.im[i]).toBeCloseTo(one.im[i]! + other.im[i]!, 12);
    });
    const second = sumReflections(f, both, c, { secondOrder: true });
    const longM = Math.sqrt(1 + 4 * 0.26 * 1.26 + 4 * 0.2 * 0.25);
    f.forEach((hz, i) => {
      const size = Math.hypot(second.re[i]! - sum.re[i]!, second.im[i]! - sum.im[i]!);
      const g = (0.7 / Math.hypot(1, hz / 1200)) * (0.5 / Math.hypot(1, hz / 4000));
      expect(size).toBeCloseTo(g / longM, 12);
    });
  });

  it('levels are finite even in a perfect null', () => {
    const levels = pressureLevelDb({ re: Float64Array.of(0), im: Float64Array.of(0) });
    expect(levels[0]).toBe(-400);
  });
});
