import { describe, expect, test } from 'vitest';
import type { Setup } from '../../../src/acoustics/setup.js';
import { advisedStepM, placementAdvice } from '../../../src/diagnosis/verdict/placementAdvice.js';

const at = (m: number) => ({ m, toleranceM: 0 });
const setup: Setup = {
  temperatureC: 20,
  microphoneDistance: at(1),
  surfaces: [{ name: 'wall behind', speakerDistance: at(0.25), microphoneDistance: at(1.25) }],
  lengthUnit: 'cm',
};
/** √(γ·R·T/M) at 20 °C, Kuttruff 2016. */
const C = 343.2;

function goesToHz(advice: string | undefined): number {
  const [, value, unit] = / to about ([\d.]+) (k?Hz)/.exec(advice ?? '') ?? [];
  return Number(value) * (unit === 'kHz' ? 1000 : 1);
}

describe('placementAdvice', () => {
  // The image of a source straight before a plane lies 2·d behind it: the dips at (2n−1)·c/(4·d) go with 1/d.
  test.each([1, 3, 5])('follows the very dip it stands beside, %i half wavelengths', (halfWaves) => {
    const dipHz = (halfWaves * C) / (4 * 0.25);
    const expected = (halfWaves * C) / (4 * (0.25 + advisedStepM('cm')));
    expect(goesToHz(placementAdvice(setup, 'wall behind', dipHz)) / expected).toBeCloseTo(1, 2);
  });

  test('keeps what the sound lags behind on its way around the cabinet', () => {
    // 5 cm of path more than the tape says: the dip lies lower now, and there as well.
    const dipHz = C / (2 * (0.5 + 0.05));
    expect(goesToHz(placementAdvice(setup, 'wall behind', dipHz)) / (C / (2 * 0.95))).toBeCloseTo(1, 2);
  });

  test('claims no more than where the dip goes: neither that it gets weaker nor that the place is better', () => {
    const advice = placementAdvice(setup, 'wall behind', 320)!;
    expect(advice).not.toMatch(/weaker|gets better|is better/);
    expect(advice).toMatch(/By the distances alone/);
    expect(advice).toMatch(/only a forecast of the whole curve can tell/);
    expect(advice).toMatch(/measure again/);
  });

  test('says nothing of a surface that the set-up does not have', () => {
    expect(placementAdvice(setup, 'desk', 320)).toBeUndefined();
  });
});
