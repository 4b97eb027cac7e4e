import { describe, expect, it } from 'vitest';
import { gaussian, seededRandom } from '../../fixtures/simulate/seededRandom.js';
import { logGrid } from '../../src/curve/logGrid.js';
import { workingRange } from '../../src/curve/workingRange.js';
import { curveOf, linearPoints, peakDb } from './curveSamples.js';

const grid = logGrid(15, 22_000);
const octavesApart = (a: number, b: number) => Math.abs(Math.log2(a / b));

/** A vented box, fourth-order Butterworth: −10 dB where (corner/f)⁸ = 9. */
const ventedDb = (f: number, cornerHz: number) => 80 - 10 * Math.log10(1 + (cornerHz / f) ** 8);
const tenDown = (cornerHz: number) => cornerHz / 9 ** (1 / 8);

describe('workingRange', () => {
  it('starts where a box has fallen by 10 dB, whatever its corner', () => {
    for (const cornerHz of [40, 63, 110, 150]) {
      const result = workingRange(curveOf(grid, (f) => ventedDb(f, cornerHz)));
      expect(octavesApart(result.range.fromHz, tenDown(cornerHz))).toBeLessThan(0.05);
      expect(result.cornerHz).toBe(result.range.fromHz);
      expect(result.lowCutByData).toBe(false);
    }
  });

  it('ends where the treble has fallen by 10 dB, or where the data end', () => {
    const dull = workingRange(curveOf(grid, (f) => ventedDb(f, 60) - 10 * Math.log10(1 + (f / 8000) ** 4)));
    expect(octavesApart(dull.range.toHz, 8000 * 9 ** (1 / 4))).toBeLessThan(0.05);
    expect(dull.highCutByData).toBe(false);
    const bright = workingRange(curveOf(grid, (f) => ventedDb(f, 60)));
    expect(bright.range.toHz).toBe(grid.at(-1));
    expect(bright.highCutByData).toBe(true);
  });

  it('is held inside the data, and knows no corner that they do not show', () => {
    const short = workingRange(curveOf(logGrid(100, 8000), (f) => ventedDb(f, 60)));
    expect(short.lowCutByData).toBe(true);
    expect(short.highCutByData).toBe(true);
    expect(short.cornerHz).toBeUndefined();
    expect(short.range.fromHz).toBeGreaterThanOrEqual(100);
    expect(short.range.toHz).toBeLessThanOrEqual(8000);
    expect(short.explanation).toMatch(/10\d Hz, where the data end/);
  });

  it.each([
    ['a 30 dB null above the corner', (f: number) => peakDb(f, 95, -30, 4)],
    ['a room peak below the corner', (f: number) => peakDb(f, 34, 14, 6)],
    [
      'nulls and peaks all over',
      (f: number) =>
        peakDb(f, 72, 9, 8) + peakDb(f, 130, -25, 6) + peakDb(f, 190, 7, 6) + peakDb(f, 2000, -20, 5),
    ],
  ])('is not misled by %s', (_, trouble) => {
    const result = workingRange(curveOf(grid, (f) => ventedDb(f, 60) + trouble(f)));
    expect(octavesApart(result.range.fromHz, tenDown(60))).toBeLessThan(0.3);
    expect(result.range.toHz).toBe(grid.at(-1));
  });

  it('is not brought back by rumble two octaves below the corner', () => {
    const rumble = (f: number) => 10 * Math.log10(10 ** (ventedDb(f, 80) / 10) + 10 ** (8 * (18 / f) ** 4));
    const result = workingRange(curveOf(logGrid(8, 20_000), rumble));
    expect(octavesApart(result.range.fromHz, tenDown(80))).toBeLessThan(0.05);
  });

  it('gives the same for the same curve on other points, and in the presence of noise', () => {
    const random = seededRandom(5);
    const onLinear = workingRange(curveOf(linearPoints(15, 22_000, 0.7), (f) => ventedDb(f, 60)));
    const noisy = workingRange(curveOf(grid, (f) => ventedDb(f, 60) + 1.5 * gaussian(random)));
    expect(octavesApart(onLinear.range.fromHz, tenDown(60))).toBeLessThan(0.05);
    expect(octavesApart(noisy.range.fromHz, tenDown(60))).toBeLessThan(0.1);
  });

  it('judges a woofer measured alone by its own loud part', () => {
    const result = workingRange(
      curveOf(logGrid(10, 250), (f) => ventedDb(f, 35) - 10 * Math.log10(1 + (f / 120) ** 8)),
    );
    expect(octavesApart(result.range.fromHz, tenDown(35))).toBeLessThan(0.25);
    expect(octavesApart(result.range.toHz, 120 * 9 ** (1 / 8))).toBeLessThan(0.25);
    expect(result.explanation).toContain('loud part');
  });

  it('takes all of a curve that covers less than an octave', () => {
    const result = workingRange(curveOf(linearPoints(1000, 1500, 20), () => 80));
    expect(result.range).toEqual({ fromHz: 1000, toHz: 1500 });
  });
});
