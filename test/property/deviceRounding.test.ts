import fc from 'fast-check';
import { expect, test } from 'vitest';
import { deviceLimits } from '../../src/device/deviceLimits.js';
import { assignSlots } from '../../src/device/profile/assignSlots.js';
import { bandCount } from '../../src/device/profile/bandSlots.js';
import type { DeviceProfile } from '../../src/device/profile/deviceProfile.js';
import { isDeviceValue } from '../../src/device/profile/deviceValues.js';
import { roundToDevice } from '../../src/device/roundToDevice.js';
import { filterFromSetting } from '../../src/filter/qConventions.js';
import { bandsFromFilters } from '../../src/fit/bank/bands.js';
import { fitFilters } from '../../src/fit/fitFilters.js';
import { measureExcess } from '../../src/fit/objective/excess.js';
import { seededRandom } from '../../src/fit/seededRandom.js';
import { logarithmic, uniform } from '../filter/filterArbitrary.js';
import { LIMITS, problemOf, wander } from '../fit/problems.js';

const grid = (min: number, max: number, steps: readonly number[]) =>
  fc.constantFrom(...steps.map((step) => ({ min, max, step })), { min, max });

const anyDevice: fc.Arbitrary<DeviceProfile> = fc.record({
  name: fc.constant('any'),
  sampleRatesHz: fc.constant([48000]),
  bands: fc.constantFrom(
    [{ types: ['peaking'] as const, count: 4 }],
    [
      { types: ['peaking', 'lowShelf'] as const, count: 1 },
      { types: ['peaking'] as const, count: 2 },
      { types: ['highShelf'] as const, count: 1 },
    ],
    [
      { types: ['peaking'] as const, count: 4, atHz: [100, 400, 1600, 6400] },
      { types: ['lowShelf', 'highShelf'] as const, count: 2 },
    ],
  ),
  gainDb: grid(-12, 6, [0.5, 1]),
  frequencyHz: fc.oneof(grid(20, 20000, [1, 10]), fc.constant({ min: 20, max: 20000, perOctave: 3 })),
  q: grid(0.4, 8, [0.1, 0.25]),
  qConvention: fc.constantFrom('cookbook', 'bandwidthOctaves', 'poleQ', 'threeDbQ', 'shelfSlope'),
});

test('whatever the device, its grid and every limit are kept', () => {
  fc.assert(
    fc.property(
      anyDevice,
      wander,
      uniform(0, 6),
      uniform(0, 3),
      logarithmic(60, 2000),
      (device, deviationDb, maxBoostDb, maxLevelLossDb, zoneHz) => {
        const limits = { ...LIMITS, maxBands: bandCount(device), maxBoostDb, maxLevelLossDb };
        const problem = problemOf({
          fromHz: 50,
          deviationDb,
          boostFromHz: 60,
          zones: [{ fromHz: zoneHz, toHz: 1.4 * zoneHz }],
          limits: deviceLimits(limits, device, 48000),
        });
        const fitted = fitFilters(problem, {
          random: seededRandom(1),
          effort: { hopsPerBand: 2, pointsPerOctave: 16, finalists: 1 },
        });
        const {
          settings,
          filters,
          deviationDb: added,
        } = roundToDevice(problem, fitted, device, 6, { hops: 1 });
        const excess = measureExcess(problem, bandsFromFilters(filters), added);
        for (const db of Object.values(excess)) expect(db).toBeLessThanOrEqual(1e-9);
        const slots = assignSlots(settings, device);
        expect(new Set(slots).size).toBe(slots.length);
        settings.forEach((band, i) => {
          expect(isDeviceValue(device.gainDb, band.gainDb)).toBe(true);
          expect(isDeviceValue(device.q, band.q)).toBe(true);
          expect(band.gainDb).toBeLessThanOrEqual(maxBoostDb);
          const filter = filterFromSetting(band, band.q, device.qConvention, 48000);
          expect(filter).toEqual(filters[i]);
        });
      },
    ),
    { seed: 7, numRuns: 24 },
  );
});
