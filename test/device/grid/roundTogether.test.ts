import { describe, expect, test } from 'vitest';
import { deviceLimits } from '../../../src/device/deviceLimits.js';
import { roundTogether } from '../../../src/device/grid/roundTogether.js';
import { allValues, isDeviceValue, steppedValue } from '../../../src/device/profile/deviceValues.js';
import { bandsOf, type DeviceBand, type DeviceBounds } from '../../../src/device/stored/deviceBank.js';
import { bankResponseDb } from '../../../src/filter/bankResponseDb.js';
import type { Filter } from '../../../src/filter/filter.js';
import { bandsFromFilters } from '../../../src/fit/bank/bands.js';
import { boundsOf } from '../../../src/fit/bank/bounds.js';
import { createObjective } from '../../../src/fit/objective/objective.js';
import { fitGrid } from '../../../src/fit/problem/fitGrid.js';
import { objectiveValue } from '../../../src/fit/refinement/objectiveValue.js';
import { seededRandom } from '../../../src/fit/seededRandom.js';
import { LIMITS, problemOf } from '../../fit/problems.js';
import { coarse } from '../deviceCases.js';

const listHz = allValues(coarse.frequencyHz);
const nearestHz = (lnF: number) =>
  listHz.reduce((a, b) => (Math.abs(Math.log(b) - lnF) < Math.abs(Math.log(a) - lnF) ? b : a));

/** A curve that some bank between the device's values mends, and that bank moved to the device's frequencies. */
function caseOf(seed: number, count: number, limits: Partial<typeof LIMITS> = {}) {
  const random = seededRandom(seed);
  const speaker: Filter[] = Array.from({ length: count }, () => ({
    type: 'peaking',
    frequencyHz: 80 * 100 ** random(),
    gainDb: 10 * random() - 5,
    q: 0.6 * 6 ** random(),
  }));
  const problem = problemOf({
    deviationDb: (hz) => bankResponseDb(speaker, 48000, hz),
    limits: deviceLimits({ ...LIMITS, ...limits }, coarse, 48000),
  });
  const bounds: DeviceBounds = { device: coarse, sampleRateHz: 48000, limits: problem.limits };
  const objective = createObjective(fitGrid(problem, 2), count, {
    penalty: 3000,
    restraint: 0,
    levelRestraint: 0,
    maxLevelLossDb: problem.limits.maxLevelLossDb,
  });
  const start = speaker.map((filter) => ({
    ...filter,
    gainDb: -filter.gainDb,
    frequencyHz: nearestHz(Math.log(filter.frequencyHz)),
  }));
  const round = () =>
    roundTogether(bounds, objective, boundsOf(problem.limits), bandsFromFilters(start), nearestHz)!;
  const errorOf = (bank: readonly DeviceBand[]) => {
    const bands = bandsOf(bounds, bank);
    return bands ? objectiveValue(objective, bands) : Number.POSITIVE_INFINITY;
  };
  return { round, errorOf };
}

/** The least value of all banks whose gains and Qs lie up to two steps away. */
function leastNearby(bank: readonly DeviceBand[], errorOf: (bank: readonly DeviceBand[]) => number): number {
  const steps = [-2, -1, 0, 1, 2];
  const near = (band: DeviceBand) =>
    steps.flatMap((g) =>
      steps.flatMap((k): DeviceBand[] => {
        const gainDb = steppedValue(coarse.gainDb, band.gainDb, g);
        const q = steppedValue(coarse.q, band.q, k);
        return gainDb === undefined || gainDb === 0 || q === undefined ? [] : [{ ...band, gainDb, q }];
      }),
    );
  const banks = bank.reduce<DeviceBand[][]>(
    (heads, band) => heads.flatMap((head) => near(band).map((other) => [...head, other])),
    [[]],
  );
  return banks.reduce((least, other) => Math.min(least, errorOf(other)), Number.POSITIVE_INFINITY);
}

describe('roundTogether', () => {
  test('every gain, Q and frequency is one of the device', () => {
    const { bank } = caseOf(1, 5).round();
    expect(bank).toHaveLength(5);
    for (const { frequencyHz, gainDb, q } of bank) {
      expect(listHz).toContain(frequencyHz);
      expect(gainDb).not.toBe(0);
      expect(isDeviceValue(coarse.gainDb, gainDb)).toBe(true);
      expect(isDeviceValue(coarse.q, q)).toBe(true);
    }
  });

  test('the value is that of the bank', () => {
    const { round, errorOf } = caseOf(2, 4);
    const { bank, value } = round();
    expect(errorOf(bank)).toBeCloseTo(value, 12);
  });

  test.each([3, 4, 5, 6, 7, 8])('of two bands hardly any bank nearby is better (seed %i)', (seed) => {
    const { round, errorOf } = caseOf(seed, 2);
    const { bank, value } = round();
    expect(Math.sqrt(value)).toBeLessThan(1.02 * Math.sqrt(leastNearby(bank, errorOf)) + 1e-6);
  });

  test('no filter is boosted beyond what is allowed', () => {
    for (let seed = 20; seed < 26; seed++) {
      const { bank } = caseOf(seed, 4, { maxBoostDb: 2 }).round();
      for (const { gainDb } of bank) expect(gainDb).toBeLessThanOrEqual(2);
    }
  });
});
