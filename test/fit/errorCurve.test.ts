import { describe, expect, test } from 'vitest';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import type { Filter } from '../../src/filter/filter.js';
import { EFFORTS } from '../../src/fit/effort.js';
import { errorBound } from '../../src/fit/errorBound.js';
import { errorCurve } from '../../src/fit/errorCurve.js';
import { fitFilters } from '../../src/fit/fitFilters.js';
import { seededRandom } from '../../src/fit/seededRandom.js';
import { problemOf } from './problems.js';

const FOUR: readonly Filter[] = [
  { type: 'peaking', frequencyHz: 60, gainDb: -6, q: 2 },
  { type: 'peaking', frequencyHz: 300, gainDb: 5, q: 1.5 },
  { type: 'peaking', frequencyHz: 1500, gainDb: -5, q: 2 },
  { type: 'peaking', frequencyHz: 7000, gainDb: 5, q: 1.5 },
];
const four = (hz: Float64Array) => bankResponseDb(FOUR, 48000, hz).map((db) => -db);
const ripple = (hz: Float64Array) => four(hz).map((db, i) => db + 0.5 * Math.sin(i / 2.5) * Math.cos(i / 17));

describe('the error against the number of bands', () => {
  const { points, kneeBands } = errorCurve(problemOf({ deviationDb: ripple }), {
    random: seededRandom(1),
    maxBands: 9,
  });

  test('begins with no band, never rises, and has its knee where the curve has its bands', () => {
    expect(points.map(({ bands }) => bands)).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 9]);
    for (let k = 1; k < points.length; k++) {
      expect(points[k]!.rmsDb).toBeLessThanOrEqual(points[k - 1]!.rmsDb);
    }
    expect(kneeBands).toBe(4);
  });

  test('has its knee at no band where none can do anything', () => {
    const level = problemOf({ deviationDb: (hz) => hz.map(() => 0) });
    expect(errorCurve(level, { random: seededRandom(1), maxBands: 4 }).kneeBands).toBe(0);
  });

  test('is met by a fit of as many bands to within a tenth', () => {
    for (const bands of [2, 4]) {
      const problem = problemOf({ deviationDb: four, limits: { maxBands: bands } });
      const curve = errorCurve(problem, { random: seededRandom(1), maxBands: bands });
      const { rmsDb } = fitFilters(problem, { random: seededRandom(1), effort: EFFORTS.normal });
      expect(Math.abs(curve.points[bands]!.rmsDb - rmsDb)).toBeLessThan(0.05 + 0.1 * rmsDb);
    }
  });
});

describe('the bound that no number of bands gets below', () => {
  test('is nothing where no limit stands in the way', () => {
    expect(errorBound(problemOf({ deviationDb: four, limits: { maxLevelLossDb: 12 } }))).toBeLessThan(1e-6);
  });

  test('is what a cap leaves of a step that may be mended neither by boost nor by loss of level', () => {
    const step = (hz: Float64Array) => hz.map((f) => (f < 632.46 ? -10 : 0));
    // Half the octaves 10 dB low. 2 dB of boost below, 4 dB of cut above lose 1 dB in the mean: 4 dB apart, 2 dB RMS.
    const problem = problemOf({ deviationDb: step, limits: { maxBoostDb: 2, maxLevelLossDb: 1 } });
    expect(errorBound(problem)).toBeCloseTo(2, 1);
  });

  test('lies below what fits of ever more bands reach, and not far below that of many', () => {
    const limits = { maxBoostDb: 1, maxLevelLossDb: 0.5 };
    const bound = errorBound(problemOf({ deviationDb: four, limits }));
    expect(bound).toBeGreaterThan(0.2);
    const rms = [2, 6, 12].map((maxBands) => {
      const problem = problemOf({ deviationDb: four, limits: { ...limits, maxBands } });
      return fitFilters(problem, { random: seededRandom(1), effort: EFFORTS.quick }).rmsDb;
    });
    for (const db of rms) expect(db).toBeGreaterThan(bound);
    expect(rms[2]!).toBeLessThan(1.25 * bound);
  });
});

describe('a repeatability', () => {
  test('keeps bands from following noise of its size, and not from mending what stands out of it', () => {
    const bandsAt = (repeatabilityDb?: number) => {
      const problem = problemOf({ deviationDb: ripple, limits: { maxBands: 8 } });
      const random = seededRandom(1);
      return fitFilters(problem, {
        random,
        effort: EFFORTS.quick,
        ...(repeatabilityDb && { repeatabilityDb }),
      }).filters.length;
    };
    expect(bandsAt()).toBeGreaterThan(5);
    expect(bandsAt(0.4)).toBe(4);
    expect(bandsAt(20)).toBe(0);
  });
});
