import { describe, expect, test } from 'vitest';
import { logGrid } from '../../src/curve/logGrid.js';
import { design } from '../../src/design.js';
import type { DeviceProfile } from '../../src/device/profile/deviceProfile.js';
import { shippedDevices } from '../../src/device/profile/shippedDevices.js';
import { EFFORTS } from '../../src/fit/effort.js';
import { DEFAULT_LIMITS, type DesignRequest } from '../../src/pipeline/designRequest.js';
import { fixedBandWarnings } from '../../src/pipeline/fixedBandWarnings.js';
import { realBank } from '../../src/pipeline/realBank.js';

const mixed: DeviceProfile = {
  name: 'mixed',
  sampleRatesHz: [48000, 96000],
  bands: [
    { types: ['peaking'], count: 2 },
    { types: ['peaking'], count: 3, atHz: [50, 1000, 30000] },
  ],
  gainDb: { min: -12, max: 6, step: 0.5 },
  frequencyHz: { min: 100, max: 10000 },
  q: { min: 0.4, max: 10, step: 0.1 },
  qConvention: 'cookbook',
};
const fixedOnly: DeviceProfile = { ...mixed, bands: mixed.bands.slice(1) };

describe('bands at fixed frequencies that no fit can use', () => {
  test('are named, each with what keeps it out', () => {
    const [high, outside, ...rest] = fixedBandWarnings(mixed, 48000);
    expect(rest).toEqual([]);
    expect(high!.message).toContain('band 5 at 30 kHz is not used');
    expect(high!.message).toContain('48000 Hz');
    expect(outside!.message).toContain('band 3 at 50 Hz is not used');
    expect(outside!.message).toContain('from 100 Hz to 10 kHz');
  });

  test('are only those above half the rate where no band can be moved', () => {
    expect(fixedBandWarnings(fixedOnly, 48000).map(({ frequencyHz }) => frequencyHz)).toEqual([30000]);
    expect(fixedBandWarnings(fixedOnly, 96000)).toEqual([]);
  });

  test.each(shippedDevices.map((device) => [device.name, device] as const))(
    'are in no device that comes along (%s)',
    (_, device) => {
      for (const rateHz of device.sampleRatesHz) expect(fixedBandWarnings(device, rateHz)).toEqual([]);
    },
  );

  test('take no filter that somebody chose', () => {
    const bank = realBank([{ type: 'peaking', frequencyHz: 23000, gainDb: -3, q: 1 }], 48000, fixedOnly);
    expect(bank.filters[0]!.frequencyHz).toBe(1000);
  });
});

test('a design warns of them, and uses a band outside "frequencyHz" exactly where it does not', () => {
  const frequencyHz = logGrid(30, 18000, 24);
  const levelDb = frequencyHz.map((hz) => 80 + 5 * Math.exp(-((4 * Math.log2(hz / 50)) ** 2)));
  const request = (device: DeviceProfile): DesignRequest => ({
    title: 'a hump at 50 Hz (simulated)',
    measurements: [
      { fileName: 'hump.txt', curve: { frequencyHz, levelDb }, comments: [], rows: 200, warnings: [] },
    ],
    target: {},
    fromHz: 40,
    toHz: 15000,
    ...DEFAULT_LIMITS,
    bands: 5,
    device,
  });
  const made = (device: DeviceProfile) => design(request(device), { effort: EFFORTS.quick });
  const warned = (device: DeviceProfile) =>
    made(device).warnings.flatMap(({ code, frequencyHz: hz }) =>
      code === 'fixed-band-unusable' ? [hz] : [],
    );
  const usesHump = (device: DeviceProfile) =>
    made(device).filters.some((filter) => filter.frequencyHz === 50);
  expect(warned(mixed)).toEqual([30000, 50]);
  expect(usesHump(mixed)).toBe(false);
  expect(warned(fixedOnly)).toEqual([30000]);
  expect(usesHump(fixedOnly)).toBe(true);
});
