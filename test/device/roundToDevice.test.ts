import { describe, expect, test } from 'vitest';
import { deviceLimits } from '../../src/device/deviceLimits.js';
import { assignSlots } from '../../src/device/profile/assignSlots.js';
import { bandCount } from '../../src/device/profile/bandSlots.js';
import type { DeviceProfile } from '../../src/device/profile/deviceProfile.js';
import { isDeviceValue } from '../../src/device/profile/deviceValues.js';
import { shippedDevices } from '../../src/device/profile/shippedDevices.js';
import { roundToDevice } from '../../src/device/roundToDevice.js';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import { biquadResponse } from '../../src/filter/biquadResponse.js';
import type { Filter } from '../../src/filter/filter.js';
import { fixedPointFit } from '../../src/filter/fixedPointFit.js';
import { filterFromSetting } from '../../src/filter/qConventions.js';
import { bandsFromFilters } from '../../src/fit/bank/bands.js';
import { fitFilters } from '../../src/fit/fitFilters.js';
import { measureExcess } from '../../src/fit/objective/excess.js';
import type { FitLimits, FitProblem } from '../../src/fit/problem/fitProblem.js';
import { seededRandom } from '../../src/fit/seededRandom.js';
import { LIMITS, problemOf } from '../fit/problems.js';
import { coarse } from './deviceCases.js';

const speaker: readonly Filter[] = [
  { type: 'peaking', frequencyHz: 71, gainDb: 6.3, q: 3.3 },
  { type: 'peaking', frequencyHz: 240, gainDb: -4.2, q: 1.6 },
  { type: 'peaking', frequencyHz: 1130, gainDb: 3.4, q: 2.2 },
  { type: 'highShelf', frequencyHz: 5100, gainDb: 3.7, q: 0.6 },
];

function problemFor(
  device: DeviceProfile,
  limits: Partial<FitLimits> = {},
  sampleRateHz = 48000,
): FitProblem {
  const wide = { ...LIMITS, maxBands: bandCount(device), ...limits };
  return problemOf({
    fromHz: 40,
    sampleRateHz,
    deviationDb: (hz) => bankResponseDb(speaker, sampleRateHz, hz),
    zones: [{ fromHz: 400, toHz: 520 }],
    limits: deviceLimits(wide, device, sampleRateHz),
  });
}

type Made = ReturnType<typeof make>;
const madeBefore = new Map<string, Made>();

/** As `make`, but each once: several tests look at the same bank. */
function made(device: DeviceProfile, limits: Partial<FitLimits> = {}, sampleRateHz = 48000): Made {
  const key = JSON.stringify([device, limits, sampleRateHz]);
  const bank = madeBefore.get(key) ?? make(device, limits, sampleRateHz);
  madeBefore.set(key, bank);
  return bank;
}

function make(device: DeviceProfile, limits: Partial<FitLimits>, sampleRateHz: number) {
  const problem = problemFor(device, limits, sampleRateHz);
  const fitted = fitFilters(problem, {
    random: seededRandom(1),
    effort: { hopsPerBand: 2, pointsPerOctave: 16, finalists: 1 },
  });
  const bands = Math.min(limits.maxBands ?? 40, bandCount(device));
  return { problem, fitted, rounded: roundToDevice(problem, fitted, device, bands, { hops: 3 }) };
}

const byName = (name: string) => shippedDevices.find((device) => device.name === name)!;

describe('roundToDevice', () => {
  test.each([coarse, ...shippedDevices])('$name: every number is one that the device has', (device) => {
    const { rounded } = made(device);
    const fixedHz = device.bands.flatMap(({ atHz = [] }) => atHz);
    expect(rounded.settings.length).toBeGreaterThan(2);
    for (const { frequencyHz, gainDb, q } of rounded.settings) {
      if (fixedHz.length > 0) expect(fixedHz).toContain(frequencyHz);
      else expect(isDeviceValue(device.frequencyHz, frequencyHz)).toBe(true);
      expect(isDeviceValue(device.gainDb, gainDb)).toBe(true);
      expect(isDeviceValue(device.q, q)).toBe(true);
    }
    expect(new Set(assignSlots(rounded.settings, device)).size).toBe(rounded.settings.length);
  });

  test.each([coarse, ...shippedDevices])('$name: the limits hold on what the device will do', (device) => {
    const { problem, rounded } = made(device, { maxBoostDb: 3, maxLevelLossDb: 1 });
    const excess = measureExcess(problem, bandsFromFilters(rounded.filters), rounded.deviationDb);
    for (const db of Object.values(excess)) expect(db).toBeLessThanOrEqual(1e-9);
    for (const { gainDb, q } of rounded.filters) {
      expect(gainDb).toBeLessThanOrEqual(3);
      expect(q).toBeGreaterThanOrEqual(LIMITS.minQ * (1 - 1e-9));
      expect(q).toBeLessThanOrEqual(LIMITS.maxQ * (1 + 1e-9));
    }
  });

  test('comes nearer to the fit than rounding each number by itself', () => {
    const { problem, fitted, rounded } = made(coarse);
    const plain = fitted.filters.map((filter) => ({
      ...filter,
      frequencyHz: 1000 * 2 ** (Math.round(3 * Math.log2(filter.frequencyHz / 1000)) / 3),
      gainDb: Math.round(2 * filter.gainDb) / 2,
      q: Math.round(10 * filter.q) / 10,
    }));
    expect(rounded.rmsDb).toBeLessThan(0.75 * rmsOf(problem, plain));
    expect(rounded.rmsDb).toBeCloseTo(rmsOf(problem, rounded.filters), 9);
    expect(rounded.stated.unroundedRmsDb).toBeCloseTo(rmsOf(problem, fitted.filters), 9);
  });

  test('gives the same bank twice', () => {
    expect(make(coarse, {}, 48000).rounded.settings).toEqual(made(coarse).rounded.settings);
  });

  test.each([
    ['bandwidthOctaves', { min: 0.1, max: 3, step: 0.05 }],
    ['poleQ', { min: 0.4, max: 12, step: 0.1 }],
    ['threeDbQ', { min: 0.4, max: 12, step: 0.1 }],
  ] as const)('the settings of a device that means %s are the filters', (qConvention, q) => {
    const { rounded } = made({ ...coarse, qConvention, q });
    expect(rounded.settings.length).toBeGreaterThan(1);
    rounded.settings.forEach((setting, i) => {
      expect(isDeviceValue(q, setting.q)).toBe(true);
      const filter = filterFromSetting(setting, setting.q, qConvention, 48000)!;
      expect(filter).toEqual(rounded.filters[i]);
    });
  });

  test('what is left over and what is promised are those of the stored coefficients', () => {
    const device = byName('fixed-point-5.23-biquads');
    const narrow: DeviceProfile = {
      ...device,
      coefficients: { ...device.coefficients!, fixedPoint: { integerBits: 3, fractionBits: 13 } },
    };
    const { rounded, problem } = made(narrow);
    const stored = problem.frequencyHz.map(() => 0);
    for (const filter of rounded.filters) {
      const fit = fixedPointFit(filter, 48000, { integerBits: 3, fractionBits: 13 });
      expect(fit.stable).toBe(true);
      const { levelDb } = biquadResponse(fit.rounded.coefficients, 48000, problem.frequencyHz);
      for (let i = 0; i < stored.length; i++) stored[i]! += levelDb[i]!;
    }
    const claimed = rounded.deviationDb(problem.frequencyHz);
    const exact = bankResponseDb(rounded.filters, 48000, problem.frequencyHz);
    stored.forEach((db, i) => {
      expect(Math.abs(db - exact[i]! - claimed[i]!)).toBeLessThan(1e-9);
    });
    expect(Math.max(...claimed.map(Math.abs))).toBeGreaterThan(0.01);
  });

  test('a filter that a format cannot hold is warned of, with a structure that can', () => {
    const device = byName('fixed-point-5.23-biquads');
    const short: DeviceProfile = {
      ...device,
      coefficients: { ...device.coefficients!, fixedPoint: { integerBits: 3, fractionBits: 13 } },
    };
    const { rounded } = made(short, {}, 192000);
    const words = rounded.warnings.map(({ code, message }) => `${code}: ${message}`).join('\n');
    expect(words).toMatch(/coefficients-too-coarse|rounded-filter-unstable|coefficient-overflow/);
    expect(words).toContain('fraction bits instead of 13');
    expect(words).toContain('delta-operator form');
  });

  test('with fixed frequencies no band stands twice, and no more are used than allowed', () => {
    const { rounded } = made(byName('third-octave-graphic'), { maxBands: 6 });
    const frequencies = rounded.settings.map(({ frequencyHz }) => frequencyHz);
    expect(new Set(frequencies).size).toBe(frequencies.length);
    expect(frequencies.length).toBeLessThanOrEqual(6);
  });

  test('a device without a band in the range is refused by name', () => {
    const high = { ...coarse, frequencyHz: { min: 21000, max: 23000, step: 1 } };
    expect(() => problemFor(high)).toThrow(
      /device "coarse": found no band between 20 and 20000 Hz.*expected at least one there/,
    );
    const sharp = { ...coarse, q: { min: 20, max: 30, step: 1 } };
    expect(() => problemFor(sharp)).toThrow(/nothing in common/);
  });
});

function rmsOf(problem: FitProblem, filters: readonly Filter[]): number {
  const eq = bankResponseDb(filters, problem.sampleRateHz, problem.frequencyHz);
  const total = problem.weight.reduce((a, b) => a + b, 0);
  const share = problem.weight.map((w) => w / total);
  const reached = problem.deviationDb.map((db, i) => db + eq[i]!);
  const level = reached.reduce((sum, db, i) => sum + share[i]! * db, 0);
  return Math.sqrt(reached.reduce((sum, db, i) => sum + share[i]! * (db - level) ** 2, 0));
}
