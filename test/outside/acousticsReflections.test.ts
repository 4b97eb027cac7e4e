import { describe, expect, it } from 'vitest';
import { combBottomDb, combTopDb } from '../../src/acoustics/combLevels.js';
import { pressureLevelDb } from '../../src/acoustics/complexPressure.js';
import { cancellationsHz, pathDifferenceM, reinforcementsHz } from '../../src/acoustics/imageSource.js';
import { planePressure } from '../../src/acoustics/reflectionModel.js';

const c = 343.2;

describe('one reflection of relative level a: tops 20·log10(1 + a), bottoms 20·log10(1 − a)', () => {
  it.each([
    [-3, 4.65, -10.69],
    [-6, 3.53, -6.04],
    [-10, 2.39, -3.3],
    [-20, 0.83, -0.92],
  ])('at %d dB the tops lie at %d dB and the bottoms at %d dB', (levelDb, topDb, bottomDb) => {
    const a = 10 ** (levelDb / 20);
    expect(Math.abs(combTopDb(a) - topDb)).toBeLessThan(6e-3);
    expect(Math.abs(combBottomDb(a) - bottomDb)).toBeLessThan(6e-3);
  });

  it('the response itself has them there: bottoms at (2n+1)/(2τ), tops between', () => {
    const plane = { r: 1, hs: 0.4, hm: 0.9 };
    const differenceM = pathDifferenceM(plane);
    const strength = (0.5 * (1 + differenceM)) / 1;
    const model = { strength, cornerHz: Infinity, lagM: 0 };
    const levelAt = (f: number) => pressureLevelDb(planePressure(Float64Array.of(f), plane, model, c))[0]!;
    for (const f of cancellationsHz(differenceM, 5000, c))
      expect(levelAt(f)).toBeCloseTo(combBottomDb(0.5), 9);
    for (const f of reinforcementsHz(differenceM, 5000, c)) expect(levelAt(f)).toBeCloseTo(combTopDb(0.5), 9);
    expect(cancellationsHz(differenceM, 5000, c).length).toBeGreaterThan(3);
  });
});

describe('image source (J. B. Allen and D. A. Berkley, JASA 65, 1979)', () => {
  // Wall behind, microphone on the axis: path difference 2·hs, cancellations at c/(4·hs) and three times that.
  it.each([
    [0.25, 343, 1030],
    [0.7, 123, 368],
  ])('a wall %d m behind cancels at %d and %d Hz', (hs, firstHz, secondHz) => {
    const [first, second] = cancellationsHz(pathDifferenceM({ r: 1, hs, hm: hs + 1 }), 2000, c);
    expect(Math.abs(first! - firstHz)).toBeLessThan(0.6);
    expect(Math.abs(second! - secondHz)).toBeLessThan(0.6);
  });

  it('an omnidirectional source and a rigid wall at r = 1 m, hs = 0.25 m give 14 dB between tops and bottoms', () => {
    const plane = { r: 1, hs: 0.25, hm: 1.25 };
    const levelAt = (f: number) =>
      pressureLevelDb(
        planePressure(Float64Array.of(f), plane, { strength: 1, cornerHz: Infinity, lagM: 0 }, c),
      )[0]!;
    expect(Math.abs(levelAt(686.4) - levelAt(343.2) - 14)).toBeLessThan(0.1);
  });
});
