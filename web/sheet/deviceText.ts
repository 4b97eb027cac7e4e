import type { DeviceProfile } from '../../src/device/profile/deviceProfile.js';

/** A device as the text of its file. */
export function deviceText({ coefficients, ...profile }: DeviceProfile): string {
  const { fixedPoint, ...rest } = coefficients ?? {};
  return JSON.stringify(
    {
      ...profile,
      ...(coefficients && {
        coefficients: { format: fixedPoint ? 'fixed' : 'float', ...fixedPoint, ...rest },
      }),
    },
    null,
    2,
  );
}
