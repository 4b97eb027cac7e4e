import { describe, expect, test } from 'vitest';
import { deviceLimits } from '../../src/device/deviceLimits.js';
import { assignSlots } from '../../src/device/profile/assignSlots.js';
import type { DeviceProfile } from '../../src/device/profile/deviceProfile.js';
import { roundToDevice } from '../../src/device/roundToDevice.js';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import { fitFilters } from '../../src/fit/fitFilters.js';
import type { FitLimits } from '../../src/fit/problem/fitProblem.js';
import { seededRandom } from '../../src/fit/seededRandom.js';
import { LIMITS, problemOf } from '../fit/problems.js';
import { coarse } from './deviceCases.js';
import { randomBank } from './randomBank.js';

const free: DeviceProfile = {
  ...coarse,
  bands: [{ types: ['peaking', 'lowShelf', 'highShelf'], count: 2 }],
  frequencyHz: { min: 60, max: 16000, perOctave: 12 },
};
const mixed: DeviceProfile = {
  ...free,
  bands: [
    ...free.bands,
    { types: ['peaking'], count: 6, atHz: [31.5, 63, 250, 1000, 4000, 18000] },
    { types: ['lowShelf'], count: 2, atHz: [45, 120] },
    { types: ['highShelf'], count: 1, atHz: [6000] },
  ],
};
const OUTSIDE = [31.5, 18000, 45];
const SEEDS = [61, 62, 63, 64];

function made(device: DeviceProfile, seed: number, limits: Partial<FitLimits> = {}) {
  const bank = randomBank(seededRandom(seed));
  const problem = problemOf({
    deviationDb: (hz) => bankResponseDb(bank, 48000, hz),
    limits: deviceLimits({ ...LIMITS, maxBands: 12, ...limits }, device, 48000),
  });
  const effort = { hopsPerBand: 2, pointsPerOctave: 16, finalists: 1 };
  const fitted = fitFilters(problem, { random: seededRandom(1), effort });
  return roundToDevice(problem, fitted, device, 12, { hops: 2 });
}

describe('a device with bands that can be moved and others that cannot', () => {
  test.each(SEEDS)('speaker %i: uses both, and none that stands outside its range', (seed) => {
    const { settings, rmsDb } = made(mixed, seed);
    const slots = assignSlots(settings, mixed);
    expect(new Set(slots).size).toBe(slots.length);
    expect(slots.filter((slot) => slot < 2)).toHaveLength(2);
    expect(slots.filter((slot) => slot >= 2).length).toBeGreaterThan(2);
    for (const { frequencyHz } of settings) expect(OUTSIDE).not.toContain(frequencyHz);
    expect(rmsDb).toBeLessThan(0.8 * made(free, seed).rmsDb);
  });

  test.each(SEEDS)('speaker %i: has no shelf where shelves of that kind are not allowed', (seed) => {
    for (const device of [free, mixed]) {
      const { settings } = made(device, seed, { types: ['peaking', 'lowShelf'] });
      expect(settings.length).toBeGreaterThan(1);
      for (const { type } of settings) expect(type).not.toBe('highShelf');
    }
  });
});
