import { describe, expect, it } from 'vitest';
import { logGrid } from '../../src/curve/logGrid.js';
import { cookbookCoefficients } from '../../src/filter/cookbookCoefficients.js';
import type { Filter } from '../../src/filter/filter.js';
import { type FirFilter, linearPhaseFir, minimumPhaseFir } from '../../src/impulse/fir.js';
import { chainResponse, degrees } from './digitalSystem.js';

const rate = 48_000;
const filters: Filter[] = [
  { type: 'peaking', frequencyHz: 62, gainDb: -6, q: 3 },
  { type: 'peaking', frequencyHz: 300, gainDb: 4, q: 4 },
  { type: 'lowShelf', frequencyHz: 100, gainDb: 3, q: 0.7 },
  { type: 'highShelf', frequencyHz: 8000, gainDb: -2, q: 0.7 },
];
const sections = filters.map((f) => cookbookCoefficients(f, rate));
const grid = logGrid(10, 23_900, 96);
const curve = { frequencyHz: grid, levelDb: chainResponse(sections, rate, grid).levelDb };

/** Response of taps at one frequency, by the sum itself. */
function responseOf({ taps }: FirFilter, hz: number): { levelDb: number; phaseRad: number } {
  const w = (2 * Math.PI * hz) / rate;
  let re = 0;
  let im = 0;
  taps.forEach((tap, n) => {
    re += tap * Math.cos(w * n);
    im -= tap * Math.sin(w * n);
  });
  return { levelDb: 20 * Math.log10(Math.hypot(re, im)), phaseRad: Math.atan2(im, re) };
}
const checked = [30, 50, 62, 75, 100, 200, 300, 350, 1000, 5000, 8000, 15_000, 20_000];

describe('minimumPhaseFir', () => {
  it('has the levels and the phase of the bank of filters that it stands for', () => {
    const fir = minimumPhaseFir(curve, rate, 8192);
    const exact = chainResponse(sections, rate, Float64Array.from(checked));
    expect(fir.taps).toHaveLength(8192);
    expect(fir.delaySamples).toBe(0);
    checked.forEach((hz, i) => {
      const { levelDb, phaseRad } = responseOf(fir, hz);
      expect(Math.abs(levelDb - exact.levelDb[i]!)).toBeLessThan(0.03);
      expect(degrees(phaseRad, exact.phaseRad[i]!)).toBeLessThan(0.3);
    });
  });
});

describe('linearPhaseFir', () => {
  it.each([8191, 8192])('of %i taps has the levels and is symmetric about its delay', (length) => {
    const fir = linearPhaseFir(curve, rate, length);
    const exact = chainResponse(sections, rate, Float64Array.from(checked));
    expect(fir.taps).toHaveLength(length);
    expect(fir.delaySamples).toBe(Math.floor(length / 2));
    for (let n = 1; n < length / 2; n++)
      expect(fir.taps[fir.delaySamples + n] ?? 0).toBe(fir.taps[fir.delaySamples - n] ?? 0);
    checked.forEach((hz, i) => {
      const { levelDb, phaseRad } = responseOf(fir, hz);
      expect(Math.abs(levelDb - exact.levelDb[i]!)).toBeLessThan(0.15);
      expect(degrees(phaseRad, (-2 * Math.PI * hz * fir.delaySamples) / rate)).toBeLessThan(1e-6);
    });
  });
});

describe.each([
  ['minimumPhaseFir', minimumPhaseFir],
  ['linearPhaseFir', linearPhaseFir],
] as const)('the error of %s', (_, design) => {
  it('is the difference that the taps really show', () => {
    const fir = design(curve, rate, 1024);
    const { error } = fir;
    const worst =
      responseOf(fir, error.maxAtHz).levelDb -
      chainResponse(sections, rate, Float64Array.of(error.maxAtHz)).levelDb[0]!;
    expect(Math.abs(Math.abs(worst) - error.maxDb)).toBeLessThan(0.02);
    for (const hz of checked) {
      const off =
        responseOf(fir, hz).levelDb - chainResponse(sections, rate, Float64Array.of(hz)).levelDb[0]!;
      expect(Math.abs(off)).toBeLessThan(error.maxDb + 0.02);
    }
    expect(error.rmsDb).toBeLessThan(error.maxDb);
  });

  it('falls as the filter grows longer', () => {
    const errors = [512, 2048, 8192].map((length) => design(curve, rate, length).error.rmsDb);
    expect(errors[1]!).toBeLessThan(errors[0]! / 1.5);
    expect(errors[2]!).toBeLessThan(errors[1]! / 5);
  });

  it('is nothing for a flat curve, whose filter is one tap', () => {
    const fir = design({ frequencyHz: grid, levelDb: grid.map(() => -3) }, rate, 64);
    expect(fir.error.maxDb).toBeLessThan(1e-6);
    expect(fir.taps[fir.delaySamples]).toBeCloseTo(10 ** (-3 / 20), 9);
  });

  it.each([0, 15, 100.5, Number.NaN])('refuses a length of %d', (length) => {
    expect(() => design(curve, rate, length)).toThrow(RangeError);
  });
});
