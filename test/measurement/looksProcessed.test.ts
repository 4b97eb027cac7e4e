import { describe, expect, it } from 'vitest';
import { randomScenario } from '../../fixtures/simulate/randomScenario.js';
import { gaussian, seededRandom } from '../../fixtures/simulate/seededRandom.js';
import { simulateCurve } from '../../fixtures/simulate/simulate.js';
import type { Curve } from '../../src/curve/curve.js';
import { logGrid } from '../../src/curve/logGrid.js';
import { smoothOctave } from '../../src/curve/smoothOctave.js';
import { looksGated } from '../../src/measurement/looksGated.js';
import { looksSmoothed } from '../../src/measurement/looksSmoothed.js';
import { curveOf, linearPoints, speakerDb } from '../curve/curveSamples.js';

const grid = logGrid(20, 20_000, 96);

/** A speaker and 400 echoes that die away within some 0.3 s, as dense as in a room (simulated). */
function reverberant(seed: number): Curve {
  const random = seededRandom(seed);
  const echoes = Array.from({ length: 400 }, () => {
    const delayS = 0.001 + 0.25 * random();
    return { delayS, size: 0.25 * gaussian(random) * Math.exp(-delayS / 0.05) };
  });
  return curveOf(grid, (f) => {
    let [re, im] = [1, 0];
    for (const { delayS, size } of echoes) {
      re += size * Math.cos(2 * Math.PI * f * delayS);
      im -= size * Math.sin(2 * Math.PI * f * delayS);
    }
    return speakerDb(f) + 10 * Math.log10(re * re + im * im);
  });
}

describe('looksSmoothed', () => {
  it('sees smoothing to 1/12 octave in some reverberant curves, and in none that was not smoothed', () => {
    const curves = Array.from({ length: 12 }, (_, i) => reverberant(i + 1));
    expect(curves.filter((c) => looksSmoothed(c).length > 0)).toEqual([]);
    const seen = curves.map((c) => looksSmoothed(smoothOctave(c, 1 / 12))).filter((w) => w.length > 0);
    expect(seen.length).toBeGreaterThanOrEqual(3);
    expect(seen[0]![0]!.code).toBe('measurement-smoothed');
  });

  it('raises no alarm on speakers, reflections and rooms with noise', () => {
    const plain = curveOf(grid, speakerDb);
    expect(looksSmoothed(plain)).toEqual([]);
    expect(looksSmoothed(curveOf(grid, () => 80))).toEqual([]);
    for (const noiseDb of [0.02, 0.1, 0.5]) {
      const random = seededRandom(9);
      expect(looksSmoothed(curveOf(grid, (f) => speakerDb(f) + noiseDb * gaussian(random)))).toEqual([]);
    }
    for (let seed = 1; seed <= 6; seed++) {
      expect(
        looksSmoothed(simulateCurve(randomScenario(seededRandom(seed), { surroundings: 'few' }))),
      ).toEqual([]);
    }
  });

  it('says nothing of a curve too coarse to tell', () => {
    expect(looksSmoothed(curveOf(logGrid(20, 20_000, 12), speakerDb))).toEqual([]);
  });

  it('believes the comments, also where they deny it', () => {
    const curve = curveOf(grid, speakerDb);
    const warned = (comment: string) => looksSmoothed(curve, ['a', comment]).length === 1;
    expect(['Smoothing: 1/6 octave', '1/12 oct smoothed'].map(warned)).toEqual([true, true]);
    expect(
      ['unsmoothed', 'Smoothing: none', 'no smoothing', 'not smoothed', 'smooth sound'].map(warned),
    ).toEqual(Array(5).fill(false));
    expect(looksSmoothed(curve, ['Smoothing: 1/6 octave'], 'desk.txt')[0]!.message).toMatch(
      /^desk\.txt .*1\/6 octave/,
    );
  });
});

describe('looksGated', () => {
  it('sees points 200 Hz apart from the first one on as a gate of 5 ms', () => {
    const [warning] = looksGated(curveOf(linearPoints(200, 20_000, 200), speakerDb));
    expect(warning?.code).toBe('measurement-gated');
    expect(warning?.message).toContain('5 ms');
    expect(warning?.frequencyHz).toBeCloseTo(200, 9);
  });

  it('sees it also where frequencies are rounded', () => {
    const points = linearPoints(46.875, 20_000, 46.875).map((f) => Math.round(f * 10) / 10);
    expect(looksGated(curveOf(points, speakerDb))).toHaveLength(1);
  });

  it.each([
    ['fine spacing', linearPoints(1, 20_000, 1)],
    ['a start far from the first multiple', linearPoints(1000, 20_000, 100)],
    ['points that are no multiples', linearPoints(270, 20_000, 200)],
    ['log spacing', logGrid(20, 20_000)],
  ])('raises no alarm on %s', (_, points) => {
    expect(looksGated(curveOf(points, speakerDb))).toEqual([]);
  });

  it('believes the comments, also where they deny it', () => {
    const curve = curveOf(grid, speakerDb);
    const warned = (comment: string) => looksGated(curve, [comment]).length === 1;
    expect(['Gate: 5 ms', 'gated at 4 ms'].map(warned)).toEqual([true, true]);
    expect(['ungated', 'gate: none', 'no gate', 'delegated'].map(warned)).toEqual(Array(4).fill(false));
  });
});
