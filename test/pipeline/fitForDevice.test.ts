import { describe, expect, test } from 'vitest';
import { insideMaximumDb } from '../../src/device/grid/insideMaximumDb.js';
import type { DeviceProfile } from '../../src/device/profile/deviceProfile.js';
import { bankMaximum } from '../../src/filter/bankMaximum.js';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import type { Filter } from '../../src/filter/filter.js';
import type { FitResult } from '../../src/fit/problem/fitProblem.js';
import { fitForDevice } from '../../src/pipeline/fitForDevice.js';
import { LIMITS, problemOf } from '../fit/problems.js';

/** A boost, and a cut that takes part of it back. */
const filters: readonly Filter[] = [
  { type: 'lowShelf', frequencyHz: 500, gainDb: 5, q: 1 },
  { type: 'peaking', frequencyHz: 400, gainDb: -6, q: 0.5 },
];
const fitted: FitResult = {
  filters,
  levelDb: 0,
  rmsDb: 0,
  stopReason: 'given',
  iterations: 0,
  limitsReached: [],
};
const device: DeviceProfile = {
  name: 'any',
  sampleRatesHz: [48000],
  bands: [
    { types: ['lowShelf'], count: 1 },
    { types: ['peaking'], count: 3 },
  ],
  gainDb: { min: -12, max: 12 },
  frequencyHz: { min: 20, max: 20000 },
  q: { min: 0.4, max: 10 },
  qConvention: 'cookbook',
};
const problem = problemOf({
  deviationDb: (hz) => bankResponseDb(filters, 48000, hz).map((db) => -db),
  limits: LIMITS,
});
const made = (more: Partial<DeviceProfile>) => fitForDevice(problem, fitted, { ...device, ...more }, 4);

describe('a device with little headroom between its bands', () => {
  test('is given less, so that no sum of its first bands exceeds what it holds', () => {
    const tight = made({ headroomDb: 0 });
    // The shelf stands in the first band.
    const inOrder = [...tight.fit.filters].sort((a, b) => a.type.localeCompare(b.type));
    const inside = insideMaximumDb(inOrder, device, 48000);
    expect(inside).toBeGreaterThan(bankMaximum(tight.fit.filters, 48000).maxDb + 0.2);
    expect(tight.inputGainDb).toBeLessThanOrEqual(-inside + 1e-6);
    expect(tight.inputGainDb).toBeGreaterThan(-inside - 0.011);
    expect(tight.fields.device?.headroomDb).toBe(0);
  });

  test('with enough of it only the sum of all bands counts', () => {
    const { fit, inputGainDb } = made({ headroomDb: 24 });
    const { maxDb } = bankMaximum(fit.filters, 48000);
    expect(inputGainDb).toBeLessThanOrEqual(-Math.max(0, maxDb) + 1e-6);
    expect(inputGainDb).toBeGreaterThan(-Math.max(0, maxDb) - 0.011);
    expect(made({}).inputGainDb).toBe(inputGainDb);
  });
});

test('the delay of the bands in use is stated', () => {
  const { fit, fields } = made({ delay: { perBandSamples: 3 } });
  expect(fields.device?.delay?.samples).toBe(3 * fit.filters.length);
});
