import { describe, expect, test } from 'vitest';
import { deviceLimits } from '../../src/device/deviceLimits.js';
import type { DeviceProfile } from '../../src/device/profile/deviceProfile.js';
import { isDeviceValue } from '../../src/device/profile/deviceValues.js';
import { roundToDevice } from '../../src/device/roundToDevice.js';
import { realError } from '../../src/device/stored/realError.js';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import type { Filter } from '../../src/filter/filter.js';
import { filterFromSetting, settingFromFilter } from '../../src/filter/qConventions.js';
import { bandsFromFilters } from '../../src/fit/bank/bands.js';
import { fitFilters } from '../../src/fit/fitFilters.js';
import { measureExcess } from '../../src/fit/objective/excess.js';
import { seededRandom } from '../../src/fit/seededRandom.js';
import { LIMITS, problemOf } from '../fit/problems.js';
import { conventionDevices } from './conventionDevices.js';
import { heldPlainly, roundPlainly } from './plainRounding.js';
import { randomBank } from './randomBank.js';

const BANDS = 4;
const SEEDS = [501, 502];

function rounded(device: DeviceProfile, seed: number) {
  const bank = randomBank(seededRandom(seed));
  const asked = problemOf({
    fromHz: 40,
    deviationDb: (hz) => bankResponseDb(bank, 48000, hz),
    zones: seed % 2 ? [{ fromHz: 400, toHz: 520 }] : [],
    limits: { ...LIMITS, maxBands: BANDS, maxBoostDb: 4 },
  });
  const problem = { ...asked, limits: deviceLimits(asked.limits, device, 48000) };
  const effort = { hopsPerBand: 1, pointsPerOctave: 16, finalists: 1 };
  const fitted = fitFilters(problem, { random: seededRandom(1), effort });
  return { asked, problem, fitted, ...roundToDevice(problem, fitted, device, BANDS, { hops: 2 }) };
}

/** But for the figures that a fit is rounded to; where nothing is to be had within the limits, Q is at their end. */
function expectSettable({ q: { min, max }, qConvention }: DeviceProfile, filter: Filter) {
  const setting = settingFromFilter(filter, qConvention, 48000)!;
  const isAtEnd = filter.q === LIMITS.minQ || filter.q === LIMITS.maxQ;
  if (isAtEnd) return;
  expect(setting).toBeGreaterThanOrEqual(min * (1 - 1e-3));
  expect(setting).toBeLessThanOrEqual(max * (1 + 1e-3));
}

describe.each(conventionDevices(BANDS))('$name', (device) => {
  test.each(SEEDS)('speaker %i: no worse than plain rounding, on the grid, within every limit', (seed) => {
    const { asked, problem, fitted, settings, filters, rmsDb, deviationDb } = rounded(device, seed);
    const plain = heldPlainly(problem, device, roundPlainly(fitted.filters, device, 48000));
    expect(rmsDb).toBeLessThanOrEqual(realError(problem, plain).rmsDb + 1e-9);
    expect(settings.length).toBeGreaterThan(0);
    if (problem.limits.qSetting) for (const filter of fitted.filters) expectSettable(device, filter);
    settings.forEach((band, i) => {
      expect(isDeviceValue(device.frequencyHz, band.frequencyHz)).toBe(true);
      expect(isDeviceValue(device.gainDb, band.gainDb)).toBe(true);
      expect(isDeviceValue(device.q, band.q)).toBe(true);
      expect(filterFromSetting(band, band.q, device.qConvention, 48000)).toEqual(filters[i]);
    });
    const excess = measureExcess(asked, bandsFromFilters(filters), deviationDb);
    for (const db of Object.values(excess)) expect(db).toBeLessThanOrEqual(1e-9);
    for (const { gainDb, q } of filters) {
      expect(gainDb).toBeLessThanOrEqual(4);
      expect(gainDb).toBeGreaterThanOrEqual(-LIMITS.maxCutDb);
      expect(q).toBeGreaterThanOrEqual(LIMITS.minQ * (1 - 1e-9));
      expect(q).toBeLessThanOrEqual(LIMITS.maxQ * (1 + 1e-9));
    }
  });
});
