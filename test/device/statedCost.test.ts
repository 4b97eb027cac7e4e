import { expect, test } from 'vitest';
import { deviceLimits } from '../../src/device/deviceLimits.js';
import { bandCount } from '../../src/device/profile/bandSlots.js';
import type { DeviceProfile } from '../../src/device/profile/deviceProfile.js';
import { roundToDevice } from '../../src/device/roundToDevice.js';
import { realError } from '../../src/device/stored/realError.js';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import type { Filter } from '../../src/filter/filter.js';
import { bandsFromFilters } from '../../src/fit/bank/bands.js';
import { fitFilters } from '../../src/fit/fitFilters.js';
import { measureExcess } from '../../src/fit/objective/excess.js';
import type { FitLimits } from '../../src/fit/problem/fitProblem.js';
import { seededRandom } from '../../src/fit/seededRandom.js';
import { LIMITS, problemOf } from '../fit/problems.js';
import { coarse } from './deviceCases.js';

/** With a dip of its own within the span that is left alone. */
const speaker: readonly Filter[] = [
  { type: 'peaking', frequencyHz: 95, gainDb: 5, q: 2.3 },
  { type: 'peaking', frequencyHz: 640, gainDb: 2.2, q: 1.1 },
  { type: 'peaking', frequencyHz: 1750, gainDb: -11, q: 9 },
  { type: 'peaking', frequencyHz: 3300, gainDb: 1.7, q: 3 },
  { type: 'highShelf', frequencyHz: 7000, gainDb: -4, q: 0.7 },
];
const zone = { fromHz: 1500, toHz: 2040, mayFollow: true };

function made(device: DeviceProfile, limits: Partial<FitLimits> = {}, sampleRateHz = 48000) {
  const problem = problemOf({
    fromHz: 40,
    sampleRateHz,
    deviationDb: (hz) => bankResponseDb(speaker, 48000, hz),
    zones: [zone],
    limits: deviceLimits({ ...LIMITS, maxBands: bandCount(device), ...limits }, device, sampleRateHz),
  });
  const fitted = fitFilters(problem, {
    random: seededRandom(1),
    effort: { hopsPerBand: 2, pointsPerOctave: 16, finalists: 1 },
  });
  return {
    problem,
    fitted,
    rounded: roundToDevice(problem, fitted, device, bandCount(device), { hops: 100 }),
  };
}

test('the cost is told of the error that counts: no line in place of a dip is part of it', () => {
  const { problem, fitted, rounded } = made(coarse);
  const outside = Array.from(problem.frequencyHz.keys()).filter(
    (i) => problem.frequencyHz[i]! < zone.fromHz || problem.frequencyHz[i]! > zone.toHz,
  );
  const rms = (filters: readonly Filter[], levelDb: number) => {
    const eqDb = bankResponseDb(filters, 48000, problem.frequencyHz);
    let [sum, weights] = [0, 0];
    for (const i of outside) {
      sum += problem.weight[i]! * (problem.deviationDb[i]! + eqDb[i]! - levelDb) ** 2;
      weights += problem.weight[i]!;
    }
    return Math.sqrt(sum / weights);
  };
  expect(rounded.stated.roundedRmsDb).toBeCloseTo(rms(rounded.filters, rounded.levelDb), 9);
  expect(rounded.stated.unroundedRmsDb).toBeCloseTo(rms(fitted.filters, fitted.levelDb), 4);
  // The line does count in the search.
  expect(Math.abs(rounded.stated.roundedRmsDb - rounded.rmsDb)).toBeGreaterThan(1e-4);
});

test('a device without steps does no worse than one with them, whatever it calls Q', () => {
  const q = { min: 0.4, max: 6 };
  const stepped: DeviceProfile = { ...coarse, qConvention: 'threeDbFromFlatQ', q: { ...q, step: 0.1 } };
  const free: DeviceProfile = {
    ...stepped,
    gainDb: { min: -12, max: 6 },
    frequencyHz: { min: 20, max: 20000 },
    q,
  };
  const { problem, rounded } = made(free);
  expect(rounded.stated.roundedRmsDb).toBeLessThan(made(stepped).rounded.stated.roundedRmsDb);
  for (const db of Object.values(measureExcess(problem, bandsFromFilters(rounded.filters)))) {
    expect(db).toBeLessThanOrEqual(1e-9);
  }
});

test('coefficients too coarse for anything leave no more error than no filter does', () => {
  const short: DeviceProfile = {
    ...coarse,
    sampleRatesHz: [192000],
    coefficients: {
      fixedPoint: { integerBits: 3, fractionBits: 12 },
      feedbackSign: 'subtracted',
      order: ['b0', 'b1', 'b2', 'a1', 'a2'],
    },
  };
  const { problem, rounded } = made(short, { maxBoostDb: 0 }, 192000);
  expect(rounded.rmsDb).toBeLessThanOrEqual(realError(problem, []).rmsDb);
});
