import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import type { Filter } from '../../src/filter/filter.js';
import { filtersFromBands } from '../../src/fit/bank/bands.js';
import { boundsOf } from '../../src/fit/bank/bounds.js';
import { enforceLimits, roundIntoLimits } from '../../src/fit/finish/exactLimits.js';
import { fitFilters } from '../../src/fit/fitFilters.js';
import type { FitLimits } from '../../src/fit/problem/fitProblem.js';
import { seededRandom } from '../../src/fit/seededRandom.js';
import { logarithmic, SEED, uniform } from '../filter/filterArbitrary.js';
import { brokenLimits } from '../fit/independentCheck.js';
import { bank, type ProblemOptions, problemOf, wander } from '../fit/problems.js';

/** The search itself is measured elsewhere; limits must hold however short it is. */
const SHORT = { starts: 1, hopsPerBand: 0.3, pointsPerOctave: 16, finalists: 1 };

const spans = fc.tuple(logarithmic(25, 150), logarithmic(2000, 18000));
const zone = fc
  .tuple(logarithmic(20, 15000), uniform(0.01, 1.2))
  .map(([fromHz, octaves]) => ({ fromHz, toHz: Math.min(fromHz * 2 ** octaves, 20000) }));
/** Zones apart from each other, as the diagnosis hands them over. */
const zones = fc
  .array(zone, { maxLength: 3 })
  .map((list) =>
    list
      .sort((a, b) => a.fromHz - b.fromHz)
      .filter(({ fromHz }, i, all) => i === 0 || fromHz > all[i - 1]!.toHz * 1.02),
  );

const often = <T>(usual: fc.Arbitrary<T>, ...odd: T[]) =>
  fc.oneof({ arbitrary: usual, weight: 4 }, { arbitrary: fc.constantFrom(...odd), weight: 1 });
const limits = fc.record({
  maxBands: fc.integer({ min: 1, max: 6 }),
  maxBoostDb: often(uniform(1, 9), 0, 0.3),
  maxCutDb: often(uniform(4, 20), 0, 3),
  minQ: uniform(0.3, 0.7),
  maxQ: logarithmic(1, 20),
  maxLevelLossDb: often(uniform(0.2, 6), 0),
});

const problems: fc.Arbitrary<ProblemOptions & { fromHz: number; toHz: number; limits: Partial<FitLimits> }> =
  fc
    .record({
      deviationDb: wander,
      span: spans,
      zones,
      boostFromHz: fc.option(logarithmic(30, 200), { nil: undefined }),
      levelDb: fc.option(uniform(-8, 8), { nil: undefined }),
      sampleRateHz: fc.constantFrom(44100, 48000, 96000),
      limits,
    })
    .map(({ span: [fromHz, toHz], ...rest }) => ({ ...rest, fromHz, toHz }));

function check(options: ProblemOptions, filters: readonly Filter[]): string[] {
  const problem = problemOf(options);
  return brokenLimits(filters, problem.sampleRateHz, {
    range: { fromHz: problem.frequencyHz[0]!, toHz: problem.frequencyHz.at(-1)! },
    limits: problem.limits,
    zones: options.zones ?? [],
    boostFromHz: options.boostFromHz,
  });
}

const fitted = (options: ProblemOptions, effort = SHORT) =>
  fitFilters(problemOf(options), { random: seededRandom(3), effort });

describe('limits hold on the finished bank, between grid points too', () => {
  test('for random curves, ranges, zones and limits', () => {
    let used = 0;
    fc.assert(
      fc.property(fc.noBias(problems), (options) => {
        const { filters } = fitted(options);
        used += filters.length;
        expect(check(options, filters)).toEqual([]);
      }),
      { ...SEED, numRuns: 18, endOnFailure: true },
    );
    // Empty banks keep every limit.
    expect(used).toBeGreaterThan(40);
  });

  test('for banks that break them all, whatever the curve', () => {
    let kept = 0;
    fc.assert(
      fc.property(fc.noBias(problems), bank(2, 6), (options, bands) => {
        const problem = problemOf({ ...options, limits: { ...options.limits, maxBands: 6 } });
        const bounds = boundsOf(problem.limits);
        const filters = filtersFromBands(
          roundIntoLimits(problem, enforceLimits(problem, bands, bounds), bounds),
        );
        kept += filters.length;
        expect(check({ ...options, limits: problem.limits }, filters)).toEqual([]);
      }),
      { ...SEED, numRuns: 18, endOnFailure: true },
    );
    expect(kept).toBeGreaterThan(40);
  });

  const cut: Filter = { type: 'peaking', frequencyHz: 1000, gainDb: -6, q: 1 };
  const minus = (filters: readonly Filter[]) => (hz: Float64Array) =>
    bankResponseDb(filters, 48000, hz).map((db) => -db);
  const awkward: Record<string, ProblemOptions> = {
    'no boost at all': { deviationDb: minus([cut]), limits: { maxBoostDb: 0 } },
    'a boost of next to nothing': { deviationDb: minus([cut]), limits: { maxBoostDb: 0.01 } },
    'no loss of level at all': {
      deviationDb: minus([cut, { ...cut, frequencyHz: 5000, gainDb: 5 }]),
      limits: { maxLevelLossDb: 0 },
    },
    'no cut at all': {
      deviationDb: minus([cut, { ...cut, frequencyHz: 5000, gainDb: 5 }]),
      limits: { maxCutDb: 0 },
    },
    'a zone across the lower end of the range': {
      deviationDb: minus([{ ...cut, frequencyHz: 60, gainDb: 6 }, cut]),
      fromHz: 60,
      zones: [{ fromHz: 40, toHz: 90 }],
    },
    'a zone across the upper end of the range': {
      deviationDb: minus([{ type: 'highShelf', frequencyHz: 6000, gainDb: 6, q: 0.7 }, cut]),
      toHz: 10000,
      zones: [{ fromHz: 9000, toHz: 14000 }],
    },
    'a zone below the range': {
      deviationDb: minus([{ type: 'lowShelf', frequencyHz: 60, gainDb: 6, q: 0.7 }, cut]),
      fromHz: 60,
      zones: [{ fromHz: 30, toHz: 50 }],
    },
    'a zone between two points of the grid': {
      deviationDb: minus([{ ...cut, frequencyHz: 300, gainDb: 6 }, cut]),
      zones: [{ fromHz: 301, toHz: 303 }],
    },
    'one Q only': { deviationDb: minus([cut]), limits: { minQ: 1, maxQ: 1, maxShelfQ: 1 } },
    'no shelves': { deviationDb: minus([cut]), limits: { types: ['peaking'] } },
    'a range of a third of an octave': { deviationDb: minus([cut]), fromHz: 900, toHz: 1150 },
    'a level far above the curve': { deviationDb: minus([cut]), levelDb: 20 },
    'errors far beyond the limits': {
      deviationDb: minus([
        { ...cut, gainDb: 30 },
        { ...cut, frequencyHz: 3000, gainDb: -30 },
      ]),
    },
  };
  test.each(Object.entries(awkward))('with %s, and the rest is still mended', (_, options) => {
    const { filters, rmsDb } = fitted({ ...options, limits: { ...options.limits, maxBands: 5 } });
    expect(check({ ...options, limits: { ...options.limits, maxBands: 5 } }, filters)).toEqual([]);
    const untouched = fitted({ ...options, limits: { ...options.limits, maxBands: 0 } }).rmsDb;
    // A curve within 0.15 dB is left alone.
    expect(rmsDb).toBeLessThan(Math.max(0.15, 0.8 * untouched));
  });

  test('with neither boost nor loss of level there is nothing to be done', () => {
    const limits = { maxBoostDb: 0, maxLevelLossDb: 0 };
    expect(fitted({ deviationDb: minus([cut]), limits }).filters).toEqual([]);
  });

  test('with everything in a zone there is nothing to be done', () => {
    expect(fitted({ deviationDb: minus([cut]), zones: [{ fromHz: 10, toHz: 22000 }] }).filters).toEqual([]);
  });
});

test('a wider limit is never much worse, and no search is ever worse than no EQ', () => {
  fc.assert(
    fc.property(wander, (deviationDb) => {
      const rms = (limits: Partial<FitLimits>) => fitted({ deviationDb, limits }).rmsDb;
      const none = rms({ maxBands: 0 });
      const narrow = rms({ maxBands: 3, maxBoostDb: 2, maxCutDb: 4 });
      const wide = rms({ maxBands: 6, maxBoostDb: 8, maxCutDb: 12 });
      expect(narrow).toBeLessThanOrEqual(none);
      expect(wide).toBeLessThanOrEqual(narrow * 1.01 + 0.03);
    }),
    { ...SEED, numRuns: 6, endOnFailure: true },
  );
});
