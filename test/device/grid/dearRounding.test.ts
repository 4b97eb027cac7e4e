import { describe, expect, test } from 'vitest';
import { dearRounding } from '../../../src/device/grid/dearRounding.js';
import type { DeviceProfile } from '../../../src/device/profile/deviceProfile.js';
import { coarse } from '../deviceCases.js';

const free: DeviceProfile = {
  ...coarse,
  gainDb: { min: -12, max: 6 },
  frequencyHz: { min: 20, max: 20000 },
  q: { min: 0.4, max: 10 },
};

/** @param exactRmsDb with the device's numbers, did it compute exactly */
function said(
  device: DeviceProfile,
  unroundedRmsDb: number,
  exactRmsDb: number,
  roundedRmsDb: number,
  lost = 0,
) {
  const stages = { unroundedRmsDb, roundedRmsDb, exactlyComputedRmsDb: () => exactRmsDb, lost };
  return dearRounding(device, stages)
    .map(({ code, message }) => `${code}: ${message}`)
    .join();
}

describe('a device that costs much', () => {
  test('through its steps', () => {
    const words = said(coarse, 0.5, 0.84, 0.84);
    expect(words).toMatch(/^rounding-is-dear: The steps of "coarse" cost 0\.34 dB: 0\.84 dB RMS remain/);
    expect(words).toContain('finer frequencies');
  });

  test('by as much as the two figures beside it differ, as they are shown', () => {
    expect(said(coarse, 0.1774, 0.3824, 0.3824)).toContain(
      'cost 0.20 dB: 0.38 dB RMS remain instead of 0.18 dB',
    );
  });

  test('through filters that its number format threw out', () => {
    const words = said(coarse, 0.5, 0.6, 1.2, 2);
    expect(words).toContain('"coarse" costs 0.70 dB');
    expect(words).toContain(
      '0.10 dB of it are for its steps, 0.60 dB for its number format, which cannot hold 2 filters.',
    );
    expect(words).not.toContain('finer frequencies');
  });

  test('through rounded coefficients, under which gains had to be taken back', () => {
    const words = said(coarse, 0.5, 0.6, 1.2);
    expect(words).toContain('0.60 dB for its number format. Coefficients with more bits');
  });

  test('through its steps mostly, though a filter was lost that hardly counted', () => {
    expect(said(coarse, 0.5, 0.83, 0.84, 1)).toContain('The steps of "coarse" cost 0.34 dB');
  });

  test('without steps these are not blamed', () => {
    expect(said(free, 0.5, 0.51, 1.2, 1)).toContain(
      '0.01 dB of it are for what its numbers can say, 0.69 dB',
    );
    expect(said(free, 0.5, 1.2, 1.2)).toContain('It has no steps');
    for (const words of [said(free, 0.5, 0.51, 1.2, 1), said(free, 0.5, 1.2, 1.2)]) {
      expect(words).not.toMatch(/The steps|its steps/);
    }
  });

  test('is not spoken of where it costs little, and nothing is computed for it', () => {
    const stages = { exactlyComputedRmsDb: () => Number.NaN, lost: 1 };
    expect(dearRounding(coarse, { ...stages, unroundedRmsDb: 0.5, roundedRmsDb: 0.69 })).toEqual([]);
    expect(dearRounding(coarse, { ...stages, unroundedRmsDb: 2, roundedRmsDb: 2.4 })).toEqual([]);
  });
});
