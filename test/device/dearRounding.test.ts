import { describe, expect, test } from 'vitest';
import { dearRounding, type RoundingStages } from '../../src/device/dearRounding.js';
import type { DeviceProfile } from '../../src/device/deviceProfile.js';
import { LIMITS } from '../fit/problems.js';
import { coarse } from './deviceCases.js';

const free: DeviceProfile = {
  ...coarse,
  gainDb: { min: -12, max: 6 },
  frequencyHz: { min: 20, max: 20000 },
  q: { min: 0.4, max: 10 },
};
const said = (device: DeviceProfile, stages: RoundingStages) =>
  dearRounding({ device, sampleRateHz: 48000, limits: LIMITS }, stages)
    .map(({ code, message }) => `${code}: ${message}`)
    .join();

describe('a device that costs much', () => {
  test('through its steps', () => {
    const words = said(coarse, { unroundedRmsDb: 0.5, onGridRmsDb: 0.8, roundedRmsDb: 0.84, lost: 0 });
    expect(words).toMatch(/^rounding-is-dear: The steps of "coarse" cost 0\.34 dB: 0\.84 dB RMS remain/);
  });

  test('through filters that its number format threw out', () => {
    const words = said(coarse, { unroundedRmsDb: 0.5, onGridRmsDb: 0.6, roundedRmsDb: 1.2, lost: 2 });
    expect(words).toContain('"coarse" costs 0.70 dB');
    expect(words).toContain('0.10 dB of it are for its steps, the rest for 2 filters that its number format');
    expect(words).not.toContain('finer frequencies');
  });

  test('without steps these are not blamed', () => {
    const stages = { unroundedRmsDb: 0.5, onGridRmsDb: 0.51, roundedRmsDb: 1.2 };
    expect(said(free, { ...stages, lost: 1 })).toContain('Its number format cannot hold one filter.');
    expect(said(free, { ...stages, lost: 1 })).not.toContain('for its steps');
    expect(said(free, { ...stages, lost: 0 })).toContain('It has no steps');
  });

  test('is not spoken of where it costs little', () => {
    expect(said(coarse, { unroundedRmsDb: 0.5, onGridRmsDb: 0.6, roundedRmsDb: 0.69, lost: 1 })).toBe('');
    expect(said(coarse, { unroundedRmsDb: 2, onGridRmsDb: 2.3, roundedRmsDb: 2.4, lost: 0 })).toBe('');
  });
});
