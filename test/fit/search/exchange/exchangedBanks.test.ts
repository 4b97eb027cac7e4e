import { describe, expect, test } from 'vitest';
import { bankResponseDb } from '../../../../src/filter/bankResponseDb.js';
import type { Filter } from '../../../../src/filter/filter.js';
import { typeCode } from '../../../../src/fit/bank/bands.js';
import { boundsOf } from '../../../../src/fit/bank/bounds.js';
import { errorBound } from '../../../../src/fit/errorBound.js';
import { meanEq } from '../../../../src/fit/objective/objective.js';
import { objectiveValue } from '../../../../src/fit/refinement/objectiveValue.js';
import { createDictionary } from '../../../../src/fit/search/dictionary.js';
import { exchangedBanks } from '../../../../src/fit/search/exchange/exchangedBanks.js';
import { wantedEq } from '../../../../src/fit/search/exchange/wantedEq.js';
import { seededRandom } from '../../../../src/fit/seededRandom.js';
import { LIMITS, objectiveFor, problemOf } from '../../problems.js';

const SAMPLE_RATE_HZ = 48000;
const BANK: readonly Filter[] = [
  { type: 'lowShelf', frequencyHz: 140, gainDb: -4, q: 0.7 },
  { type: 'peaking', frequencyHz: 620, gainDb: 5, q: 2.3 },
  { type: 'peaking', frequencyHz: 1900, gainDb: -6.5, q: 4.1 },
  { type: 'peaking', frequencyHz: 7300, gainDb: -3, q: 1.2 },
];

function spaceFor(problem: ReturnType<typeof problemOf>, maxBands: number) {
  const bounds = boundsOf(problem.limits);
  const types = problem.limits.types.map(typeCode);
  const objective = objectiveFor(problem, maxBands);
  return {
    objective,
    bounds,
    types,
    maxBands,
    dictionary: createDictionary(objective.grid, bounds, types, true),
  };
}

describe('banks found by exchange', () => {
  const mended = problemOf({
    deviationDb: (hz) => bankResponseDb(BANK, SAMPLE_RATE_HZ, hz).map((db) => -db),
  });

  test('a bank that makes the curve flat is found again', () => {
    const banks = exchangedBanks(spaceFor(mended, 4), 800, seededRandom(1));
    expect(Math.sqrt(banks[0]!.value)).toBeLessThan(0.05);
    expect(banks[0]!.bands.types.length).toBe(4);
  });

  test('come best first, their values those of the objective', () => {
    const space = spaceFor(mended, 3);
    const banks = exchangedBanks(space, 180, seededRandom(1));
    expect(banks.length).toBeGreaterThan(3);
    banks.forEach(({ bands, value }, i) => {
      expect(objectiveValue(space.objective, bands)).toBeCloseTo(value, 9);
      expect(value).toBeGreaterThanOrEqual(banks[Math.max(0, i - 1)]!.value);
    });
  });

  test('the EQ that is wanted leaves what no EQ could take away', () => {
    const dipped = problemOf({
      deviationDb: (hz) => hz.map((f) => (f > 400 && f < 700 ? -14 : f > 3000 && f < 4000 ? 5 : 0)),
      limits: { ...LIMITS, maxBoostDb: 3, maxLevelLossDb: 2 },
    });
    const objective = objectiveFor(dipped, 3);
    objective.eqDb.set(wantedEq(objective));
    const { weight, deviationDb, errorPoints } = objective.grid;
    const reached = deviationDb.map((db, p) => db + objective.eqDb[p]!);
    const sum = (of: (p: number) => number) =>
      reached.reduce((total, _, p) => (p < errorPoints ? total + weight[p]! * of(p) : total), 0);
    const mean = sum((p) => reached[p]!);
    expect(Math.sqrt(sum((p) => (reached[p]! - mean) ** 2))).toBeCloseTo(errorBound(dipped), 1);
    expect(meanEq(objective)).toBeCloseTo(-2, 6);
  });

  test('no types, no banks', () => {
    expect(exchangedBanks({ ...spaceFor(mended, 3), types: [] }, 60, seededRandom(1))).toEqual([]);
  });
});
