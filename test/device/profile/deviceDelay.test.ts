import { expect, test } from 'vitest';
import { deviceDelay } from '../../../src/device/profile/deviceDelay.js';
import { coarse } from '../deviceCases.js';

test('a delay is the sum of what the device always takes and what each band takes', () => {
  const device = { ...coarse, delay: { fixedMs: 0.5, fixedSamples: 16, perBandSamples: 2 } };
  // 24 + 16 + 2·5 samples at 48 kHz.
  expect(deviceDelay(device, 5, 48000)).toEqual({ samples: 50, ms: 1.0417 });
});

test('a device that does not say has no delay to state', () => {
  expect(deviceDelay(coarse, 5, 48000)).toBeUndefined();
});
