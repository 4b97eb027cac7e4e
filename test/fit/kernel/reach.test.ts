import { describe, expect, test } from 'vitest';
import type { Filter } from '../../../src/filter/filter.js';
import { bandsFromFilters } from '../../../src/fit/bank/bands.js';
import { scaledJacobian } from '../../../src/fit/bank/bankKernel.js';
import { normalEquations } from '../../../src/fit/kernel/typescript/linearize.js';
import { findReach, reachAll } from '../../../src/fit/kernel/typescript/reach.js';
import { objectiveFor, problemOf } from '../problems.js';

const SAMPLE_RATE_HZ = 48000;
const POINTS = 400;
const frequencyHz = Float64Array.from({ length: POINTS }, (_, i) => 20 * 1000 ** (i / (POINTS - 1)));
const warped = frequencyHz.map((hz) => Math.tan((Math.PI * hz) / SAMPLE_RATE_HZ) ** 2);

const filters: readonly Filter[] = [
  { type: 'peaking', frequencyHz: 900, gainDb: 5, q: 3 },
  { type: 'peaking', frequencyHz: 90, gainDb: -11, q: 8 },
  { type: 'peaking', frequencyHz: 5000, gainDb: 0.2, q: 1.2 },
  { type: 'lowShelf', frequencyHz: 70, gainDb: -6, q: 0.7 },
  { type: 'highShelf', frequencyHz: 9000, gainDb: 4, q: 1.5 },
];

function reachOf(filter: Filter) {
  const reach = { from: new Int32Array(1), to: new Int32Array(1), ascending: POINTS };
  findReach(bandsFromFilters([filter]), warped, SAMPLE_RATE_HZ, reach);
  return { reach, from: reach.from[0]!, to: reach.to[0]! };
}

function derivativesOf(filter: Filter, reach?: Parameters<typeof scaledJacobian>[6]) {
  const jacobian = new Float64Array(3 * POINTS).fill(Number.NaN);
  const ones = new Float64Array(POINTS).fill(1);
  scaledJacobian(bandsFromFilters([filter]), warped, ones, POINTS, SAMPLE_RATE_HZ, jacobian, reach);
  return [0, 1, 2].map((row) => jacobian.subarray(row * POINTS, (row + 1) * POINTS));
}

describe('the points that a band reaches', () => {
  test.each(filters)('leave out only what is small: $type at $frequencyHz Hz', (filter) => {
    const { from, to } = reachOf(filter);
    for (const row of derivativesOf(filter)) {
      const greatest = row.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
      row.forEach((value, p) => {
        if (p < from || p >= to) expect(Math.abs(value)).toBeLessThan(0.04 * greatest);
      });
    }
  });

  test.each(filters)(
    'have the same derivatives as without, and 0 beyond: $type at $frequencyHz Hz',
    (filter) => {
      const { reach, from, to } = reachOf(filter);
      const whole = derivativesOf(filter);
      derivativesOf(filter, reach).forEach((row, k) => {
        row.forEach((value, p) => {
          expect(value).toBe(p < from || p >= to ? 0 : whole[k]![p]!);
        });
      });
    },
  );

  test('are few for a sharp peak and all for no limit', () => {
    const { reach, from, to } = reachOf(filters[1]!);
    expect(to - from).toBeLessThan(POINTS / 3);
    reachAll(reach);
    expect([reach.from[0], reach.to[0]]).toEqual([0, POINTS]);
  });

  test('hardly change what a search goes by', () => {
    const problem = problemOf({ deviationDb: (hz) => hz.map((f) => 4 * Math.sin(3 * Math.log(f))) });
    const bands = bandsFromFilters(filters);
    const [whole, cut] = [false, true].map((cutToReach) => objectiveFor(problem, 5, { cutToReach }));
    expect(normalEquations(cut!, bands)).toBe(normalEquations(whole!, bands));
    const n = bands.values.length;
    const size = (j: number) => Math.sqrt(whole!.normalMatrix[j * n + j]!);
    for (let j = 0; j < n; j++) {
      for (let i = 0; i <= j; i++) {
        const difference = cut!.normalMatrix[j * n + i]! - whole!.normalMatrix[j * n + i]!;
        expect(Math.abs(difference)).toBeLessThan(0.02 * size(j) * size(i));
      }
    }
  });
});
