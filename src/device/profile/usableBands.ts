import type { FitLimits } from '../../fit/problem/fitProblem.js';
import type { DeviceBands, DeviceProfile } from './deviceProfile.js';

/** The device with those bands and types only that may be used within limits narrowed by `deviceLimits`. */
export function usableBands(device: DeviceProfile, { types, fixedBands = [] }: FitLimits): DeviceProfile {
  const bands = device.bands.map((group): DeviceBands => {
    if (!group.atHz) return { ...group, types: group.types.filter((type) => types.includes(type)) };
    const atHz = group.atHz.filter((hz) =>
      fixedBands.some(({ type, frequencyHz }) => type === group.types[0] && frequencyHz === hz),
    );
    return { ...group, count: atHz.length, atHz };
  });
  return { ...device, bands: bands.filter((group) => group.types.length > 0 && group.count > 0) };
}
