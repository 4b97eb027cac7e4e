import { describe, expect, test } from 'vitest';
import { bankMaximum } from '../../src/filter/bankMaximum.js';
import { bankMean } from '../../src/filter/bankMean.js';
import type { Filter } from '../../src/filter/filter.js';
import {
  bandsFromFilters,
  filtersFromBands,
  LOW_SHELF,
  NO_BANDS,
  PEAKING,
  pickBands,
  withBand,
  withoutBand,
} from '../../src/fit/bank/bands.js';
import { boundsOf, boundsReached } from '../../src/fit/bank/bounds.js';
import { roundBands } from '../../src/fit/bank/roundBands.js';
import { meanOverRange, measureExcess } from '../../src/fit/objective/excess.js';
import { capAt, fitGrid } from '../../src/fit/problem/fitGrid.js';
import { candidates, createDictionary } from '../../src/fit/search/dictionary.js';
import { seededRandom } from '../../src/fit/seededRandom.js';
import { LIMITS, problemOf } from './problems.js';

const flat = (hz: Float64Array) => hz.map(() => 0);
const peak = (frequencyHz: number, gainDb: number, q: number): Filter => ({
  type: 'peaking',
  frequencyHz,
  gainDb,
  q,
});

describe('bands', () => {
  const filters: readonly Filter[] = [
    { type: 'highShelf', frequencyHz: 8000, gainDb: -2, q: 0.7 },
    { type: 'lowShelf', frequencyHz: 80, gainDb: 3, q: 0.6 },
    peak(1000, -4, 2),
  ];

  test('are the filters in other words', () => {
    const back = filtersFromBands(bandsFromFilters(filters));
    back.forEach((filter, i) => {
      expect(filter.type).toBe(filters[i]!.type);
      expect(filter.gainDb).toBe(filters[i]!.gainDb);
      expect(filter.frequencyHz).toBeCloseTo(filters[i]!.frequencyHz, 9);
      expect(filter.q).toBeCloseTo(filters[i]!.q, 12);
    });
  });

  test('are put in, taken out and picked without touching the others', () => {
    const bands = bandsFromFilters(filters);
    const rest = withoutBand(bands, 1);
    expect(rest).toEqual(bandsFromFilters([filters[0]!, filters[2]!]));
    expect(pickBands(bands, [2, 0])).toEqual(bandsFromFilters([filters[2]!, filters[0]!]));
    const more = withBand(rest, LOW_SHELF, Math.log(80), 3, Math.log(0.6));
    expect(more).toEqual(bandsFromFilters([filters[0]!, filters[2]!, filters[1]!]));
    expect(bands).toEqual(bandsFromFilters(filters));
  });
});

describe('bounds', () => {
  const bounds = boundsOf({ ...LIMITS, maxShelfQ: 0.8 });

  test('hold shelves to a lower Q than peaking bands, and name what lies on them', () => {
    const bands = bandsFromFilters([
      peak(20, 6, 1),
      { type: 'lowShelf', frequencyHz: 80, gainDb: -12, q: 0.8 },
      peak(300, 1, 0.8),
    ]);
    expect(boundsReached(bands, bounds)).toEqual([
      'filters[0].frequencyHz at min',
      'filters[0].gainDb at max',
      'filters[1].gainDb at min',
      'filters[1].q at max',
    ]);
  });
});

describe('roundBands', () => {
  const bounds = boundsOf(LIMITS);

  test('gives numbers that a person can copy, in order of frequency, without bands that do nothing', () => {
    const bands = bandsFromFilters([
      peak(12345.678, -3.64159, 1.2345678),
      peak(50.123456, 0.0004, 3),
      peak(99.999999, 2.0004, 2.61828182),
    ]);
    const rounded = filtersFromBands(roundBands(bands, bounds));
    expect(rounded.length).toBe(2);
    expect(rounded[0]!.frequencyHz).toBeCloseTo(100, 9);
    expect(rounded[0]!.gainDb).toBe(2);
    expect(rounded[0]!.q).toBeCloseTo(2.6183, 9);
    expect(rounded[1]!.frequencyHz).toBeCloseTo(12346, 6);
    expect(rounded[1]!.gainDb).toBe(-3.642);
    expect(rounded[1]!.q).toBeCloseTo(1.2346, 9);
  });

  test('does not round over a bound', () => {
    const odd = boundsOf({ ...LIMITS, maxFrequencyHz: 12345.61, maxBoostDb: 2.0004, minQ: 0.499999 });
    const bands = bandsFromFilters([peak(12345.61, 2.0004, 0.499999)]);
    const [rounded] = filtersFromBands(roundBands(bands, odd));
    expect(rounded!.frequencyHz).toBeLessThanOrEqual(12345.61 * (1 + 1e-12));
    expect(rounded!.gainDb).toBeLessThanOrEqual(2.0004);
    expect(rounded!.q).toBeGreaterThanOrEqual(0.499999 * (1 - 1e-12));
  });
});

describe('the problem on its grid', () => {
  test('weighs every octave alike, nothing inside zones, and sums to 1 at any stride', () => {
    const zones = [{ fromHz: 250, toHz: 500 }];
    const problem = problemOf({ deviationDb: flat, zones, fromHz: 62.5, toHz: 16000 });
    for (const stride of [1, 2, 3]) {
      const { weight, frequencyHz, errorPoints } = fitGrid(problem, stride);
      const sum = (from: number, to: number) =>
        weight.reduce((s, w, p) => (frequencyHz[p]! >= from && frequencyHz[p]! < to ? s + w : s), 0);
      expect(weight.length).toBe(errorPoints);
      expect(sum(0, 30000)).toBeCloseTo(1, 12);
      expect(sum(251, 499)).toBe(0);
      // Seven of the eight octaves count.
      expect(sum(1000, 2000)).toBeCloseTo(1 / 7, 2);
      expect(sum(4000, 8000)).toBeCloseTo(1 / 7, 2);
      expect(frequencyHz[errorPoints - 1]).toBe(problem.frequencyHz.at(-1));
    }
  });

  test('caps the sum at the greatest boost, in zones at half a dB, and lower beneath where boost begins', () => {
    const zones = [{ fromHz: 900, toHz: 1100 }];
    const problem = problemOf({ deviationDb: flat, zones, boostFromHz: 100, fromHz: 50 });
    expect(capAt(problem, 3000)).toBe(6);
    expect(capAt(problem, 110)).toBe(6);
    expect(capAt(problem, 30)).toBeCloseTo(0.5, 9);
    expect(capAt(problem, 5)).toBeCloseTo(0.5, 9);
    expect(capAt(problem, 85)).toBeLessThan(6);
    const { capDb, frequencyHz } = fitGrid(problem, 1);
    frequencyHz.forEach((hz, p) => {
      if (hz >= 900 && hz <= 1100) expect(capDb[p]).toBe(0.5);
    });
    const without = problemOf({ deviationDb: flat });
    expect(without.capDb.every((cap) => cap === 6)).toBe(true);
    expect(without.capFrequencyHz.at(-1)).toBe(24000);
  });

  test('where the EQ may follow, it rises in a zone as far as its edges need, but no dip and no end of the range asks for more', () => {
    // A dip of 8 dB at 2 kHz in a stretch that lies 3 dB low, and another stretch that lies as far above.
    const slopes = (hz: Float64Array) =>
      hz.map((f) => (f >= 1000 ? -3 : 3) - 8 * Math.exp(-((8 * Math.log2(f / 2000)) ** 2)));
    const riseDb = (fromHz: number, toHz: number, mayFollow: boolean, more: typeof zones = []) => {
      const problem = problemOf({
        deviationDb: slopes,
        levelDb: 0,
        zones: [{ fromHz, toHz, mayFollow }, ...more],
      });
      return problem.zones[0]!.maxRiseDb;
    };
    const zones = [{ fromHz: 1900, toHz: 1990 }];
    expect(riseDb(1500, 2700, true)).toBeCloseTo(3, 2);
    expect(riseDb(1500, 2700, false)).toBe(0.5);
    expect(riseDb(400, 600, true)).toBe(0.5);
    // The lower edge lies deep in the dip, but another zone has it already.
    expect(riseDb(1950, 2700, true, zones)).toBeCloseTo(3, 2);
    expect(riseDb(1950, 2700, true)).toBe(6);
    expect(riseDb(1500, 20000, true)).toBeCloseTo(3, 2);
    expect(riseDb(20, 20000, true)).toBe(0.5);
  });

  test('holds the cap beneath where boost begins to the line that falls to half a dB within half an octave', () => {
    for (const boostFromHz of [61, 100, 173]) {
      const problem = problemOf({ deviationDb: flat, boostFromHz, fromHz: 50 });
      for (const below of [0, 0.02, 0.1, 0.25, 0.4, 0.48, 0.5, 0.52, 0.6, 1]) {
        const cap = Math.max(0.5, 6 - (below / 0.5) * 5.5);
        expect(capAt(problem, boostFromHz * 2 ** -below)).toBeCloseTo(cap, 9);
      }
    }
  });

  test('never caps above a greatest boost that is itself small', () => {
    const problem = problemOf({ deviationDb: flat, boostFromHz: 100, limits: { maxBoostDb: 0.2 } });
    expect(Math.max(...problem.capDb)).toBe(0.2);
  });
});

describe('measureExcess', () => {
  const problem = problemOf({
    deviationDb: flat,
    fromHz: 100,
    toHz: 10000,
    zones: [{ fromHz: 400, toHz: 500 }],
  });

  test('knows the sum between grid points as the filter room does', () => {
    const filters = [peak(1234, 5.5, 9.7), peak(1301, 3.3, 8.1), peak(5000, -4, 1)];
    const { capDb } = measureExcess(problem, bandsFromFilters(filters));
    expect(capDb).toBeCloseTo(bankMaximum(filters, 48000).maxDb - 6, 3);
  });

  test('counts rise and fall inside a zone, the fall from the lower edge', () => {
    const rising = measureExcess(problem, bandsFromFilters([peak(450, 2, 3)]));
    expect(rising.zoneRiseDb).toBeCloseTo(2 - 0.5, 3);
    const filters = [peak(447.2, -4, 12)];
    const falling = measureExcess(problem, bandsFromFilters(filters));
    expect(falling.zoneFallDb).toBeGreaterThan(1.5);
    expect(falling.zoneFallDb).toBeLessThan(3);
    expect(measureExcess(problem, bandsFromFilters([peak(447, -4, 0.5)])).zoneFallDb).toBeLessThan(0);
  });

  test('takes the mean over the range as the filter room does', () => {
    const filters = [peak(447.2, -4, 12), peak(3000, -6, 0.5)];
    const bands = bandsFromFilters(filters);
    const mean = bankMean(filters, 48000, problem.frequencyHz[0]!, problem.frequencyHz.at(-1)!);
    expect(meanOverRange(problem, bands)).toBeCloseTo(mean, 2);
    expect(measureExcess(problem, bands).levelLossDb).toBeCloseTo(-3 - mean, 2);
  });

  test('has a mean over a range of a single point: the EQ there', () => {
    const problem = problemOf({ deviationDb: flat });
    const single = {
      ...problem,
      frequencyHz: Float64Array.of(1000),
      deviationDb: Float64Array.of(0),
      weight: Float64Array.of(1),
    };
    expect(meanOverRange(single, bandsFromFilters([peak(1000, -4, 2)]))).toBeCloseTo(-4, 9);
  });

  test('leaves all the room there is where there is no EQ', () => {
    expect(measureExcess(problem, NO_BANDS)).toEqual({
      capDb: -6,
      zoneRiseDb: -0.5,
      zoneFallDb: -1,
      levelLossDb: -3,
    });
  });
});

describe('the dictionary', () => {
  const bounds = boundsOf(LIMITS);
  const hump = (hz: Float64Array) => hz.map((f) => 6 * Math.exp(-((Math.log2(f / 700) / 0.4) ** 2)));
  const grid = fitGrid(problemOf({ deviationDb: hump }), 2);
  const residual = grid.deviationDb.slice();
  const mean = residual.reduce((s, v, p) => s + grid.weight[p]! * v, 0);
  const centred = residual.map((v) => v - mean);
  const quiet = new Float64Array(grid.frequencyHz.length);
  const dictionary = createDictionary(grid, bounds, [PEAKING, LOW_SHELF], true);
  const propose = (error: Float64Array, eqDb = quiet, canHave?: readonly number[]) =>
    candidates(dictionary, grid, bounds, error, eqDb, 5, canHave);

  test('proposes a cut on a hump, where the hump is', () => {
    const [best] = propose(centred);
    expect(best!.type).toBe(PEAKING);
    expect(Math.abs(Math.log2(Math.exp(best!.lnF) / 700))).toBeLessThan(0.25);
    expect(best!.gainDb).toBeLessThan(-3);
  });

  test('orders its proposals by what they take away, each apart from the better ones', () => {
    const found = propose(centred);
    expect(found.length).toBe(5);
    found.forEach((candidate, i) => {
      if (i > 0) expect(candidate.benefit).toBeLessThanOrEqual(found[i - 1]!.benefit);
      for (const better of found.slice(0, i)) {
        if (better.type !== candidate.type) continue;
        expect(candidate.type).toBe(PEAKING);
        expect(Math.abs(better.lnF - candidate.lnF)).toBeGreaterThanOrEqual(Math.LN2 / 3 - 1e-12);
      }
    });
  });

  test('proposes no more boost than the cap leaves room for', () => {
    const hollow = centred.map((v) => -v);
    expect(propose(hollow)[0]!.gainDb).toBeGreaterThan(3);
    const nearlyFull = quiet.map(() => 5);
    for (const { gainDb } of propose(hollow, nearlyFull)) expect(gainDb).toBeLessThanOrEqual(1);
  });

  test('proposes nothing of a kind of which no more can be had', () => {
    const step = grid.frequencyHz.slice(0, grid.errorPoints).map((f) => (f < 150 ? 4 : -1));
    expect(propose(step)[0]!.type).toBe(LOW_SHELF);
    const again = propose(step, quiet, [PEAKING]);
    expect(again.length).toBeGreaterThan(0);
    expect(again.every(({ type }) => type === PEAKING)).toBe(true);
  });
});

describe('seededRandom', () => {
  test('gives the same numbers for the same seed, others for another, all in [0, 1)', () => {
    const take = (seed: number) => Array.from({ length: 2000 }, seededRandom(seed));
    const numbers = take(7);
    expect(take(7)).toEqual(numbers);
    expect(take(8)).not.toEqual(numbers);
    expect(Math.min(...numbers)).toBeGreaterThanOrEqual(0);
    expect(Math.max(...numbers)).toBeLessThan(1);
    const mean = numbers.reduce((s, v) => s + v, 0) / numbers.length;
    // Standard error of the mean of 2000 uniform numbers: 0.0065.
    expect(Math.abs(mean - 0.5)).toBeLessThan(0.02);
  });
});
